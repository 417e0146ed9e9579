/**
 * Saturation pressure of water vapour: Hyland and Wexler's equations as in the ASHRAE Handbook,
 * Fundamentals (2017), chapter 1, equations 5 (over ice) and 6 (over liquid water).
 * Temperatures in kelvin, pressures in pascal. Over ice below the triple point, 0.01 °C.
 */
import type { Dual } from "./dual.ts";
import { add, constant, div, exp, implicit, log, mul, polynomial, sub } from "./dual.ts";

const TRIPLE_POINT = 273.16;
/** Lowest and highest temperature of the two equations, −100 °C and 200 °C. */
export const SATURATION_RANGE = { from: 173.15, to: 473.15 } as const;

const ICE = {
  inverse: -5.6745359e3,
  powers: [6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13],
  log: 4.1635019,
};
const WATER = {
  inverse: -5.8002206e3,
  powers: [1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8],
  log: 6.5459673,
};

/** Natural logarithm of the saturation pressure, on the branch that `at` belongs to. */
function logPressure(temperature: Dual, overIce: boolean): Dual {
  const c = overIce ? ICE : WATER;
  return add(
    add(div(constant(c.inverse), temperature), polynomial(temperature, c.powers)),
    mul(log(temperature), c.log),
  );
}

/** Saturation pressure in pascal at a temperature in kelvin. */
export const saturationPressure = (temperature: Dual): Dual =>
  exp(logPressure(temperature, temperature.v < TRIPLE_POINT));

const plainLog = (temperature: number, overIce: boolean): number =>
  logPressure(constant(temperature), overIce).v;

/**
 * The exact inverse: the temperature in kelvin at which this vapour pressure saturates, which is the
 * dew point, or the frost point below 0.01 °C.
 *
 * @param pressure  in pascal, above zero.
 * @param free      an argument index that nothing uses, for the derivative.
 */
export function saturationTemperature(pressure: Dual, free: number): Dual {
  const target = Math.log(pressure.v);
  const overIce = target <= plainLog(TRIPLE_POINT, true);
  // The logarithm of the pressure is nearly linear in 1/T, so Newton's steps settle in a handful.
  let root = Math.min(Math.max(5600 / (26.8 - target), 120), 600);
  for (let step = 0; step < 50; step++) {
    const at = logPressure({ v: root, d: [1] }, overIce);
    const change = (at.v - target) / (at.d[0] ?? 1);
    root -= change;
    if (Math.abs(change) < 1e-13 * root) break;
  }
  const logTarget = log(pressure);
  return implicit(root, free, (t) => sub(logPressure(t, overIce), logTarget));
}
