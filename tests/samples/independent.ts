/**
 * The physics of the samples once more, by other means than the project's own: a units library, a
 * psychrometrics library, numeric integration, and formulas written out beside their source.
 * Nothing here may import from the server.
 */
import { createRequire } from "node:module";
import { all, create, type Unit } from "mathjs";

/** The psychrometrics library brings no types of its own. */
interface Psychrometrics {
  readonly SI: number;
  SetUnitSystem(system: number): void;
  GetStandardAtmPressure(altitude: number): number;
  GetTDewPointFromRelHum(celsius: number, humidity: number): number;
  GetRelHumFromTDewPoint(celsius: number, dew: number): number;
}
const psychrolib: Psychrometrics = createRequire(import.meta.url)("psychrolib");

const math = create(all ?? {});
// NIST SP 811 (2008), appendix B.8: conventional inch of water and inch of mercury.
math.createUnit("inH2O", "249.08891 Pa");
math.createUnit("inHg", "3386.38864 Pa");

psychrolib.SetUnitSystem(psychrolib.SI);

/** An expression of the units library, such as `0.8 psi * 310 cm^2`, in the unit asked for. */
export const inUnit = (expression: string, unit: string): number => parsed(expression).toNumber(unit);

/** An expression of the units library in SI base units. */
export const si = (expression: string): number => parsed(expression).toSI().toNumber();

const parsed = (expression: string): Unit => math.evaluate(expression) as Unit;

export const mean = (values: readonly number[]): number => Number(math.mean([...values]));
/** Experimental standard deviation with n − 1 degrees of freedom (JCGM 100:2008, 4.2.2). */
export const deviation = (values: readonly number[]): number => Number(math.std([...values], "unbiased"));

/** Pressure of the standard atmosphere at an altitude in metres (psychrometrics library, ASHRAE 2017). */
export const standardAmbient = (altitude: number): number => psychrolib.GetStandardAtmPressure(altitude);

/** Dew or frost point in °C from °C and a share (psychrometrics library, ASHRAE 2017). */
export const dewPoint = (celsius: number, humidity: number): number =>
  psychrolib.GetTDewPointFromRelHum(celsius, humidity);

/** Relative humidity as a share from air temperature and dew point in °C (same library). */
export const relativeHumidity = (celsius: number, dew: number): number =>
  psychrolib.GetRelHumFromTDewPoint(celsius, dew);

/** Specific gas constants, J/(kg·K): dry air of ISO 2533; nitrogen as R / M with 28.014 g/mol (IUPAC). */
export const AIR = 287.05287;
export const NITROGEN = 8.314462618 / 28.014e-3;

export interface Hole {
  /** Gauge pressure across the hole, Pa. */
  readonly drop: number;
  /** Absolute pressure before the hole, Pa. */
  readonly upstream: number;
  readonly kelvin?: number;
  readonly gasConstant?: number;
  readonly discharge?: number;
}

/**
 * Volume flow per area of hole at the upstream state, m/s, without the closed nozzle formula: Euler's
 * equation v dv = −dp/ρ integrated along the isentrope ρ = ρ0 (p/p0)^(1/γ) by Simpson's rule, then
 * continuity at the throat. Below the critical ratio only (γ = 1.4: 0.528).
 */
export function flowPerArea(hole: Hole): number {
  const { drop, upstream, kelvin = 293.15, gasConstant = AIR, discharge = 0.6 } = hole;
  const gamma = 1.4;
  if (drop / upstream > 0.47) throw new Error("The hole is choked; this formula does not hold.");
  const density = (p: number) => (upstream / (gasConstant * kelvin)) * (p / upstream) ** (1 / gamma);
  const slices = 200;
  const step = drop / slices;
  let integral = 0;
  for (let i = 0; i <= slices; i++) {
    const weight = i === 0 || i === slices ? 1 : i % 2 === 1 ? 4 : 2;
    integral += (weight * step) / 3 / density(upstream - drop + i * step);
  }
  const throat = density(upstream - drop);
  return (discharge * throat * Math.sqrt(2 * integral)) / density(upstream);
}

/** Diameter in metres of the round hole that passes this flow (m³/s). */
export const holeDiameter = (flow: number, hole: Hole): number =>
  Math.sqrt((4 * flow) / (Math.PI * flowPerArea(hole)));

export interface Decay {
  readonly volume: number;
  readonly start: number;
  readonly end: number;
  readonly seconds: number;
  readonly ambient: number;
  readonly startKelvin: number;
  readonly endKelvin: number;
}

/**
 * pV leak rate in Pa·m³/s from the loss of gas: n = pV/(RT) before and after (ideal gas; the principle of
 * EN 13184), times R and the temperature at the start.
 */
export function decayLeakRate(test: Decay): number {
  const before = ((test.start + test.ambient) * test.volume) / test.startKelvin;
  const after = ((test.end + test.ambient) * test.volume) / test.endKelvin;
  return ((before - after) * test.startKelvin) / test.seconds;
}

/** Gauge pressure after warming a tight rigid housing: p/T stays the same (Gay-Lussac). */
export const sealedPressure = (gauge: number, ambient: number, kelvin: number, newKelvin: number): number =>
  ((gauge + ambient) / kelvin) * newKelvin - ambient;

/**
 * Ohms of a stranded copper conductor: 0.017241 Ω·mm²/m at 20 °C and 0.00393 per kelvin (annealed copper,
 * 100 % IACS, from memory; with the gauge series of ASTM B258 they agree with NEC chapter 9, table 8 at
 * 75 °C), 2 % more for the lay of the strands (NEC table 8: 1.98 against 1.93 Ω per 1000 ft at 12 AWG).
 */
export const strandedCopper = (metres: number, mm2: number, celsius: number): number =>
  ((0.017241 * metres) / mm2) * (1 + 0.00393 * (celsius - 20)) * 1.02;

/** Least-squares slope from the plain sums (JCGM 100:2008, H.3.3). */
export function leastSquaresSlope(x: readonly number[], y: readonly number[]): number {
  const n = x.length;
  const sum = (f: (i: number) => number) => x.reduce((total, _, i) => total + f(i), 0);
  const sx = sum((i) => x[i] ?? 0);
  const sy = sum((i) => y[i] ?? 0);
  const sxx = sum((i) => (x[i] ?? 0) ** 2);
  const sxy = sum((i) => (x[i] ?? 0) * (y[i] ?? 0));
  return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

/**
 * Peukert's law with the rated time, hours from full to the reserve: t = T (C/(I·T))^k (1 − reserve)
 * (reference row B029: 120 A.h at 20 h, 120 A, k = 1.4 give 0.30 h).
 */
export const peukert = (
  ampereHours: number,
  ampere: number,
  exponent: number,
  reserve: number,
  ratedHours = 20,
): number => ratedHours * (ampereHours / (ampere * ratedHours)) ** exponent * (1 - reserve);

export const KELVIN = 273.15;
