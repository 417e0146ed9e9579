/**
 * How a row of the reference values is checked: worked out by the project's own code, or left out with the
 * reason. Rows and their sources stand in tests/data/reference-values.json.
 */
import { z } from "zod";
import { fromSI, readUnit, toSI, type Unit } from "../../../server/src/units/index.ts";
import rows from "../../data/reference-values.json" with { type: "json" };

const rowSchema = z.object({
  id: z.string(),
  area: z.number(),
  quantity: z.string(),
  inputs: z.record(z.string(), z.object({ value: z.union([z.number(), z.string()]), unit: z.string() })),
  expected: z.object({ value: z.number(), unit: z.string() }),
  tolerance: z.object({ kind: z.enum(["rel", "abs"]), value: z.number() }),
  source: z.string(),
  status: z.string(),
  note: z.string().optional(),
});

export type Row = z.infer<typeof rowSchema>;

export const referenceRows: readonly Row[] = z.array(rowSchema).parse(rows);

/** A wider or narrower tolerance than the row's own, with the reason. */
export interface OtherTolerance {
  readonly kind: "rel" | "abs";
  readonly value: number;
  readonly because: string;
}

export type Plan =
  | {
      readonly kind: "run";
      /** Formula functions, or parts of the checker, that the row tests. */
      readonly tests: readonly string[];
      /** The value in SI units (points of temperature in kelvin). */
      readonly compute: (row: Row) => number;
      readonly tolerance?: OtherTolerance;
    }
  | { readonly kind: "left out"; readonly because: string };

export type Plans = Readonly<Record<string, Plan>>;

export const run = (
  tests: string | readonly string[],
  compute: (row: Row) => number,
  tolerance?: OtherTolerance,
): Plan => ({
  kind: "run",
  tests: typeof tests === "string" ? [tests] : tests,
  compute,
  ...(tolerance ? { tolerance } : {}),
});

export const leftOut = (because: string): Plan => ({ kind: "left out", because });

export const wider = (kind: "rel" | "abs", value: number, because: string): OtherTolerance => ({
  kind,
  value,
  because,
});

/** One plan for several rows. */
export const each = (ids: readonly string[], plan: Plan): Plans =>
  Object.fromEntries(ids.map((id) => [id, plan]));

/** The rows name a few units in words; these are the project's spellings of them. */
const SPELLINGS: Readonly<Record<string, string>> = {
  "": "1",
  "inHg (conventional)": "inHg",
  "inHg (32 degF)": "inHg(32degF)",
  "inHg (60 degF)": "inHg(60degF)",
  "inH2O (conventional)": "inH2O",
  "inH2O (39.2 degF)": "inH2O(39.2degF)",
  "inH2O (60 degF)": "inH2O(60degF)",
  "cmH2O (conventional)": "cmH2O",
  "cmH2O (4 degC)": "cmH2O(4degC)",
  "cmHg (conventional)": "cmHg",
  "quart (US liq)": "qt(US)",
  "Btu_IT/s": "Btu/s",
  C: "A.s",
  "kg/kg dry air": "1",
  "kg/kg": "1",
  "% SoC": "%",
  "% of capacity": "%",
  "% of reading": "%",
  "% FS": "%",
  "% rdg": "%",
  "sccm (0 degC)": "cm3/min",
  "scc (0 degC)": "cm3",
  "std cm3/s": "cm3/s",
};

export function unitOf(spelling: string): Unit {
  const reading = readUnit(SPELLINGS[spelling] ?? spelling);
  if (!reading.ok) throw new Error(`the unit ${spelling} of a reference row is not read`);
  return reading.unit;
}

/** An input of the row in SI units. */
export function input(row: Row, name: string): number {
  const given = row.inputs[name];
  if (!given || typeof given.value !== "number") throw new Error(`${row.id} has no number ${name}`);
  return toSI(given.value, unitOf(given.unit));
}

/** The first of two values by different ways, or no number at all when they differ. */
export const both = (first: number, second: number, relative = 1e-9): number =>
  Math.abs(first - second) <= relative * Math.abs(first) ? first : Number.NaN;

export type Status = "agrees" | "differs" | "left out";

export interface Checked {
  readonly row: Row;
  readonly status: Status;
  /** In the row's unit. */
  readonly got?: number;
  readonly difference?: number;
  readonly allowed?: number;
  readonly tests: readonly string[];
  /** Why the row is left out, or why its tolerance is another. */
  readonly because?: string;
}

export function checkRow(row: Row, plan: Plan): Checked {
  if (plan.kind === "left out") return { row, status: "left out", tests: [], because: plan.because };
  const got = fromSI(plan.compute(row), unitOf(row.expected.unit));
  const wanted = row.expected.value;
  const tolerance = plan.tolerance ?? row.tolerance;
  const stated = tolerance.kind === "rel" ? tolerance.value * Math.abs(wanted) : tolerance.value;
  // The rows print at most twelve digits, so nothing tighter than their last one can be asked.
  const allowed = Math.max(stated, 1e-9 * Math.abs(wanted), 1e-12) * (1 + 1e-9);
  const difference = got - wanted;
  return {
    row,
    status: Math.abs(difference) <= allowed ? "agrees" : "differs",
    got,
    difference,
    allowed,
    tests: plan.tests,
    ...(plan.tolerance ? { because: plan.tolerance.because } : {}),
  };
}
