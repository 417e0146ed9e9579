import { PRESSURE, TEMPERATURE } from "./dimension.ts";
import type { OwnUnits } from "./own-units.ts";
import type { Scale, Unit, UnitReading } from "./unit.ts";
import { type Product, readCompound, type UnitSource } from "./unit-product.ts";
import { fold, lookUp, type TableHit } from "./unit-table.ts";
import { explainUnknown } from "./unknown-unit.ts";

/** A note being typed brings many half-written units, so what is remembered is bounded. */
const REMEMBERED = 4096;
const readings = new Map<string, UnitReading>();

/**
 * Reads a unit as a technician or UCUM writes it: `psi`, `kPa(a)`, `mbar.L/s`, `kg/m³`, `[in_i'H2O]`.
 *
 * `.` and `·` multiply; `/` divides what stands left of it by the one factor right of it, so
 * `m/s/s` is `m/s2` and `Pa.m3/s` divides by seconds. Powers are `m3`, `m^3`, `m³`, `s-1`, `s^-1`.
 * Round brackets group: `J/(kg.K)`.
 *
 * A unit that comes out as a pressure is gauge unless it ends in `(a)` (also `psia`, `bara`). Inside a
 * product a pressure is plain, and degC and degF are steps of temperature, not points.
 *
 * @param own units that the shop adds to the table; most shops add none
 */
export function readUnit(spelling: string, own?: OwnUnits): UnitReading {
  if (own !== undefined) return own.read(spelling);
  const known = readings.get(spelling);
  if (known) return known;
  const reading = readUnitFrom(BUILT_IN, spelling);
  if (readings.size >= REMEMBERED) readings.clear();
  readings.set(spelling, reading);
  return reading;
}

const BUILT_IN: UnitSource = { find: lookUp, also: [] };

/** Reads a unit without remembering it. */
export function readUnitFrom(source: UnitSource, spelling: string): UnitReading {
  const folded = fold(spelling);
  const hit = source.find(compact(folded));
  if (hit) return { ok: true, unit: single(spelling, hit) };

  const suffix = scaleSuffix(folded);
  if (suffix) return readScaled(source, spelling, suffix);

  const compound = readCompound(source, folded);
  if ("from" in compound) {
    return explainUnknown(spelling, compound, (one) => canBeRead(source, one), source.also);
  }
  return { ok: true, unit: compoundUnit(spelling, compound) };
}

/** Whether the spelling is a unit. Offers are checked with it, as it explains nothing and so asks for no more offers. */
function canBeRead(source: UnitSource, spelling: string): boolean {
  const folded = fold(spelling);
  if (source.find(compact(folded))) return true;
  const suffix = scaleSuffix(folded);
  const base = suffix ? folded.slice(0, suffix.from) : folded;
  if (suffix && scaleSuffix(base)) return false;
  const hit = suffix && source.find(compact(base));
  if (hit) return hit.entry.dimension === PRESSURE;
  const compound = readCompound(source, base);
  return !("from" in compound) && (suffix === undefined || compound.dimension === PRESSURE);
}

/** Spellings of the table know no `^` and single blanks only. */
function compact(folded: string): string {
  let text = folded;
  if (text.includes("^")) text = text.replaceAll("^", "");
  while (text.includes("  ")) text = text.replaceAll("  ", " ");
  return text;
}

const SCALES: Readonly<Record<NonNullable<TableHit["entry"]["nature"]>, Scale>> = {
  pressure: "gauge",
  point: "point",
  kelvin: "kelvin",
  difference: "difference",
};

function single(spelling: string, { entry, prefix }: TableHit): Unit {
  return withRemark(
    {
      spelling,
      factor: entry.factor * prefix,
      offset: entry.offset ?? 0,
      dimension: entry.dimension,
      scale: entry.nature ? SCALES[entry.nature] : "plain",
    },
    entry.remark,
  );
}

function compoundUnit(spelling: string, product: Product): Unit {
  const scale =
    product.dimension === PRESSURE ? "gauge" : product.dimension === TEMPERATURE ? "difference" : "plain";
  const remark = product.remarks.length > 0 ? product.remarks.join(" ") : undefined;
  return withRemark(
    { spelling, factor: product.factor, offset: 0, dimension: product.dimension, scale },
    remark,
  );
}

const withRemark = (unit: Unit, remark: string | undefined): Unit => (remark ? { ...unit, remark } : unit);

// ---- Gauge and absolute ---------------------------------------------------------------------------

interface Suffix {
  readonly scale: "gauge" | "absolute";
  /** Where the suffix starts; the unit itself ends here. */
  readonly from: number;
}

const BRACKETED: readonly (readonly [string, Suffix["scale"]])[] = [
  ["(a)", "absolute"],
  ["(g)", "gauge"],
  ["(abs)", "absolute"],
  ["(gauge)", "gauge"],
];

/** `(a)`, `(g)` at the end, or the last letter of `psia`, `barg`, `kPaa`. */
export function scaleSuffix(folded: string): Suffix | undefined {
  for (const [text, scale] of BRACKETED) {
    if (folded.length > text.length && folded.endsWith(text))
      return { scale, from: folded.length - text.length };
  }
  const last = folded.charAt(folded.length - 1);
  if (last !== "a" && last !== "g") return undefined;
  const from = folded.length - 1;
  return lookUp(folded.slice(0, from))?.entry.gluedScale
    ? { scale: last === "a" ? "absolute" : "gauge", from }
    : undefined;
}

function readScaled(source: UnitSource, spelling: string, suffix: Suffix): UnitReading {
  const base = readUnitFrom(source, spelling.slice(0, suffix.from));
  if (!base.ok) {
    const scaled = base.nearest.map((near) => near + spelling.slice(suffix.from));
    return { ...base, nearest: scaled.filter((near) => canBeRead(source, near)) };
  }
  if (base.unit.dimension !== PRESSURE) {
    return {
      ok: false,
      from: suffix.from,
      to: spelling.length,
      nearest: [base.unit.spelling],
      remark: "Only a pressure is gauge or absolute.",
    };
  }
  // `kPa(a)(g)` says both.
  if (scaleSuffix(fold(base.unit.spelling))) {
    return {
      ok: false,
      from: suffix.from,
      to: spelling.length,
      nearest: [base.unit.spelling],
      remark: SAID_TWICE,
    };
  }
  return { ok: true, unit: { ...base.unit, spelling, scale: suffix.scale } };
}

const SAID_TWICE = "Gauge or absolute is said twice.";
