/** The forms in which the expected values of the samples are worked out, apart from the project. */
import { holeDiameter, inUnit, KELVIN, si, standardAmbient } from "./independent.ts";

export interface Check {
  readonly unit: string;
  readonly value: number;
  /** Where the expected value comes from. */
  readonly source: string;
  /** Largest difference allowed, as a share of the value, or in the unit. */
  readonly relative?: number;
  readonly absolute?: number;
}

const UNITS = "units library";
const PSYCHRO = "psychrometrics library (ASHRAE 2017)";
export const NOZZLE = "Euler's equation integrated along the isentrope, continuity at the throat";
export const GAS = "ideal gas, p V = n R T before and after";
export const GUM = "JCGM 100:2008, 4.2";

/** Spellings of the units library where they differ from the note's. */
const SPELLED: Readonly<Record<string, string>> = {
  cm2: "cm^2",
  mm2: "mm^2",
  d: "day",
  "psi/min": "psi/minute",
};
export const units = (unit: string, expression: string): Check => ({
  unit,
  value: inUnit(expression, SPELLED[unit] ?? unit),
  source: UNITS,
});
export const number = (unit: string, value: number, source: string): Check => ({ unit, value, source });
export const psychro = (unit: string, value: number, absolute: number): Check => ({
  unit,
  value,
  source: PSYCHRO,
  absolute,
});

/** The shop stands 240 m above the sea; notes without a barometer rest on that. */
export const SHOP_AMBIENT = standardAmbient(240);

/** Pressure of a sealed housing; the two standard atmospheres round their exponents differently. */
export const standing = (unit: string, value: number): Check => ({
  ...number(unit, value, "p/T constant (Gay-Lussac)"),
  relative: 1e-6,
});

/** Size in mm of a hole under this flow and drop, the pressure before it being ambient plus the drop. */
export function size(
  flow: string,
  drop: string,
  celsius = 20,
  ambient = SHOP_AMBIENT,
  gasConstant?: number,
): Check {
  const hole = { drop: si(drop), upstream: ambient + si(drop), kelvin: celsius + KELVIN };
  const metres = holeDiameter(si(flow), gasConstant === undefined ? hole : { ...hole, gasConstant });
  return { ...number("mm", metres * 1000, NOZZLE), relative: 1e-5 };
}
