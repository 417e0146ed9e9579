import {
  AMOUNT,
  AREA,
  CAPACITANCE,
  CHARGE,
  CURRENT,
  DENSITY,
  type Dimension,
  ENERGY,
  FORCE,
  FREQUENCY,
  INDUCTANCE,
  LENGTH,
  MASS,
  MASS_FLOW,
  NONE,
  POWER,
  PRESSURE,
  RESISTANCE,
  SPEED,
  TEMPERATURE,
  TIME,
  VISCOSITY,
  VOLTAGE,
  VOLUME,
  VOLUME_FLOW,
} from "./dimension.ts";
import type { OwnUnits } from "./own-units.ts";
import { COMMON_COMPOUNDS, COMMON_SCALED_PRESSURES, USUAL_UNITS } from "./table/compounds.ts";
import type { Scale, Unit } from "./unit.ts";
import { readUnit, scaleSuffix } from "./unit-reader.ts";
import { fold, preferredSpellings, UNIT_TABLE } from "./unit-table.ts";

/** A number without a unit. */
export const PLAIN_NUMBER: Unit = { spelling: "", factor: 1, offset: 0, dimension: NONE, scale: "plain" };

let spellings: readonly string[] | undefined;
const byDimension = new Map<Dimension, readonly string[]>();

/** Every spelling that completion offers, ours only; aliases and UCUM codes are read but not offered. */
export function allUnitSpellings(): readonly string[] {
  spellings ??= [
    ...new Set([
      ...USUAL_UNITS,
      ...UNIT_TABLE.flatMap(preferredSpellings),
      ...COMMON_SCALED_PRESSURES,
      ...COMMON_COMPOUNDS,
    ]),
  ];
  return spellings;
}

/** The spellings of {@link allUnitSpellings} that measure this dimension, the usual ones first. */
export function unitsOfDimension(dimension: Dimension): readonly string[] {
  const known = byDimension.get(dimension);
  if (known) return known;
  const found = allUnitSpellings().filter((spelling) => {
    const reading = readUnit(spelling);
    return reading.ok && reading.unit.dimension === dimension;
  });
  byDimension.set(dimension, found);
  return found;
}

/**
 * Spellings with a blank inside (`fl oz`, `delta degC`, `US gal`), longest first. A unit runs on past a
 * blank only where one of these stands.
 */
export function spacedUnitSpellings(): readonly string[] {
  spaced ??= UNIT_TABLE.flatMap((entry) => [entry.symbol, ...(entry.aliases ?? []), ...(entry.words ?? [])])
    .filter((spelling) => spelling.includes(" "))
    .sort((a, b) => b.length - a.length);
  return spaced;
}
let spaced: readonly string[] | undefined;

const DEFAULTS: ReadonlyMap<Dimension, string> = new Map([
  [LENGTH, "mm"],
  [AREA, "cm2"],
  [VOLUME, "mL"],
  [VOLUME_FLOW, "L/min"],
  [MASS, "g"],
  [MASS_FLOW, "g/min"],
  [DENSITY, "kg/m3"],
  [TIME, "s"],
  [FREQUENCY, "1/s"],
  [SPEED, "m/s"],
  [FORCE, "N"],
  [ENERGY, "J"],
  [POWER, "W"],
  [VISCOSITY, "Pa.s"],
  [VOLTAGE, "V"],
  [CURRENT, "A"],
  [RESISTANCE, "Ω"],
  [CHARGE, "A.h"],
  [CAPACITANCE, "µF"],
  [INDUCTANCE, "mH"],
  [AMOUNT, "mol"],
]);

/**
 * The unit in which a result is shown when the note asks for none. Undefined for a dimension that no unit
 * of whole powers expresses.
 *
 * Throughput of a leak has the dimension of power and torque that of energy: the plain answers here are W
 * and J. Functions that give a throughput or a torque name their own unit (Pa.m3/s, N.m).
 */
export function defaultUnit(dimension: Dimension, scale: Scale): Unit | undefined {
  if (dimension === NONE) return PLAIN_NUMBER;
  return unitOf(defaultSpelling(dimension, scale));
}

function defaultSpelling(dimension: Dimension, scale: Scale): string | undefined {
  if (dimension === TEMPERATURE) return scale === "point" ? "degC" : "K";
  if (dimension === PRESSURE) return scale === "absolute" ? "kPa(a)" : "kPa";
  return DEFAULTS.get(dimension) ?? baseUnits(dimension);
}

const BASE_UNITS = ["m", "kg", "s", "A", "K", "mol", "cd"] as const;

/** SI base units, as `kg.m2/s3/A`. */
function baseUnits(dimension: Dimension): string | undefined {
  if (dimension.exponents.some((exponent) => !Number.isInteger(exponent) || Math.abs(exponent) > 9))
    return undefined;
  const above: string[] = [];
  const below: string[] = [];
  BASE_UNITS.forEach((unit, i) => {
    const exponent = dimension.exponents[i] ?? 0;
    const power = Math.abs(exponent) > 1 ? String(Math.abs(exponent)) : "";
    if (exponent > 0) above.push(unit + power);
    if (exponent < 0) below.push(unit + power);
  });
  return [above.join(".") || "1", ...below].join("/");
}

/**
 * The twin of a unit on another scale: `kPa` on the absolute scale is `kPa(a)`, `psi` is `psia`, degC as a
 * difference is `delta degC`. Undefined where there is no such twin.
 */
export function unitWithScale(unit: Unit, scale: Scale, own?: OwnUnits): Unit | undefined {
  if (unit.scale === scale) return unit;
  const twin = unitOf(twinSpelling(unit, scale), own);
  return twin?.scale === scale ? twin : undefined;
}

const differences = new Map<string, Unit | undefined>();

/**
 * The unit in which the difference of two such values is written: of psia it is psi, of degF delta degF.
 * Undefined where the usual one serves.
 */
export function unitOfDifference({ spelling, dimension }: Unit): Unit | undefined {
  if (dimension !== PRESSURE && spelling !== "degF") return undefined;
  if (!differences.has(spelling)) {
    const bare = spelling.slice(0, scaleSuffix(fold(spelling))?.from);
    differences.set(spelling, unitOf(dimension === PRESSURE ? bare : "delta degF"));
  }
  return differences.get(spelling);
}

function twinSpelling(unit: Unit, scale: Scale): string | undefined {
  if (unit.dimension === PRESSURE && (scale === "gauge" || scale === "absolute"))
    return pressureTwin(unit, scale);
  if (unit.dimension !== TEMPERATURE) return undefined;
  // The step of the scale tells degF from degC; K counts with degC.
  const name = unit.factor === 1 ? "degC" : Math.abs(unit.factor - 5 / 9) < 1e-12 ? "degF" : undefined;
  if (name === undefined) return undefined;
  if (scale === "point") return name;
  if (scale === "difference") return `delta ${name}`;
  return scale === "kelvin" ? "K" : undefined;
}

function pressureTwin(unit: Unit, scale: "gauge" | "absolute"): string {
  const suffix = scaleSuffix(fold(unit.spelling));
  const bare = unit.spelling.slice(0, suffix?.from);
  const letter = scale === "gauge" ? "g" : "a";
  const wasGlued = suffix !== undefined && unit.spelling.charAt(suffix.from) !== "(";
  return wasGlued || (bare === "psi" && suffix === undefined) ? bare + letter : `${bare}(${letter})`;
}

function unitOf(spelling: string | undefined, own?: OwnUnits): Unit | undefined {
  if (spelling === undefined) return undefined;
  const reading = readUnit(spelling, own);
  return reading.ok ? reading.unit : undefined;
}
