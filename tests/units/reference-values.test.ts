import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { readUnit } from "../../server/src/units/index.ts";
import { convert, unit } from "./helpers.ts";

const rowsSchema = z.array(
  z.object({
    id: z.string(),
    area: z.number(),
    quantity: z.string(),
    inputs: z.record(z.string(), z.object({ value: z.unknown(), unit: z.string() })),
    expected: z.object({ value: z.unknown(), unit: z.string() }),
    tolerance: z.object({ kind: z.enum(["rel", "abs"]), value: z.number() }),
    source: z.string(),
  }),
);
const rows = rowsSchema.parse(
  JSON.parse(readFileSync(new URL("../data/reference-values.json", import.meta.url), "utf8")),
);

/** The handbook table names a few units in words; these are our names for them. */
const OUR_SPELLING: Readonly<Record<string, string>> = {
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
  // The bare C is kept from being read, as degC is far more often meant.
  C: "A.s",
};
const ours = (spelling: string): string => OUR_SPELLING[spelling] ?? spelling;

/** Rows that convert one number `x` from one unit to another of the same kind: all of area 1, some elsewhere. */
const conversions = rows.flatMap((row) => {
  const x = row.inputs.x;
  if (typeof x?.value !== "number" || typeof row.expected.value !== "number") return [];
  const from = ours(x.unit);
  const to = ours(row.expected.unit);
  // Outside area 1 an `x` may also be a "standard" flow, which is left unread on purpose.
  if (row.area !== 1 && !(readUnit(from).ok && readUnit(to).ok)) return [];
  return [{ ...row, value: x.value, from, to, wanted: row.expected.value }];
});

describe("unit conversions agree with the handbook rows", () => {
  it("reads every row of the conversion tables", () => {
    expect(conversions.filter((row) => row.area === 1)).toHaveLength(
      rows.filter((row) => row.area === 1).length,
    );
    expect(conversions.length).toBeGreaterThanOrEqual(65);
  });

  for (const row of conversions) {
    it(`${row.id} ${row.quantity} [${row.source}]`, () => {
      expect(unit(row.from).dimension).toBe(unit(row.to).dimension);
      const got = convert(row.value, row.from, row.to);
      const allowed =
        row.tolerance.kind === "rel" ? row.tolerance.value * Math.abs(row.wanted) : row.tolerance.value;
      // The rows print at most ten digits, so an absolute tolerance below their last digit is widened to it.
      expect(Math.abs(got - row.wanted)).toBeLessThanOrEqual(
        Math.max(allowed, 1e-10 * Math.abs(row.wanted), 5e-9),
      );
    });
  }
});
