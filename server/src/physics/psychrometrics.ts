/**
 * Moist air as an ideal mixture, after the ASHRAE Handbook, Fundamentals (2017), chapter 1.
 * Temperatures in kelvin, pressures in pascal, humidity ratio in kg of water for each kg of dry air.
 */
import { ZERO_CELSIUS } from "./constants.ts";
import type { Dual } from "./dual.ts";
import { add, constant, div, implicit, mul, neg, product, sub, sum, variable } from "./dual.ts";
import { saturationPressure, saturationTemperature } from "./saturation.ts";

/** Molar mass of water over that of dry air. */
const MASS_RATIO = 0.621945;
/** Specific gas constant of dry air as ASHRAE takes it, J/(kg·K). */
const DRY_AIR_CONSTANT = 287.042;
/** Specific gas constant of water vapour, J/(kg·K). */
const VAPOUR_CONSTANT = 461.52;

const celsius = (temperature: Dual): Dual => sub(temperature, ZERO_CELSIUS);

/** Pressure of the water vapour in air of this relative humidity. */
export const vapourPressure = (temperature: Dual, humidity: Dual): Dual =>
  mul(humidity, saturationPressure(temperature));

/** Humidity ratio from the vapour pressure (equation 20). */
export const humidityRatio = (vapour: Dual, pressure: Dual): Dual =>
  div(mul(vapour, MASS_RATIO), sub(pressure, vapour));

/** Mass of vapour for each cubic metre, kg/m³, by the ideal gas law. */
export const vapourDensity = (vapour: Dual, temperature: Dual): Dual =>
  div(vapour, mul(temperature, VAPOUR_CONSTANT));

/** Volume of moist air for each kilogram of dry air, m³/kg (equation 26). */
export const specificVolume = (temperature: Dual, ratio: Dual, pressure: Dual): Dual =>
  div(product(DRY_AIR_CONSTANT, temperature, add(1, mul(ratio, 1.607858))), pressure);

/** Enthalpy of moist air for each kilogram of dry air, kJ/kg (equation 30). */
export function enthalpy(temperature: Dual, ratio: Dual): Dual {
  const t = celsius(temperature);
  return add(mul(t, 1.006), mul(ratio, add(2501, mul(t, 1.86))));
}

/** Humidity ratio of air whose wet bulb reads this (equations 33 and 35). */
export function ratioFromWetBulb(temperature: Dual, wetBulb: Dual, pressure: Dual): Dual {
  const t = celsius(temperature);
  const w = celsius(wetBulb);
  const saturated = humidityRatio(saturationPressure(wetBulb), pressure);
  const cooling = mul(sub(t, w), 1.006);
  if (w.v >= 0) {
    const top = sub(mul(sub(2501, mul(w, 2.326)), saturated), cooling);
    return div(top, sum(2501, mul(t, 1.86), mul(w, -4.186)));
  }
  const top = sub(mul(sub(2830, mul(w, 0.24)), saturated), cooling);
  return div(top, sum(2830, mul(t, 1.86), mul(w, -2.1)));
}

/**
 * The place between two others where a rising function passes zero, by Newton's steps, halving the
 * interval instead wherever a step would leave it.
 */
function crossing(low: number, high: number, f: (x: Dual) => Dual): number {
  let below = low;
  let above = high;
  let x = (low + high) / 2;
  for (let i = 0; i < 200 && above - below > 1e-13 * above; i++) {
    const at = f(variable(x, 0));
    if (at.v < 0) below = x;
    else above = x;
    const next = x - at.v / (at.d[0] ?? Number.NaN);
    const step = next > below && next < above ? next : (below + above) / 2;
    if (Math.abs(step - x) < 1e-14 * x) return step;
    x = step;
  }
  return x;
}

/** The same number without its derivatives. */
const plain = (x: Dual): Dual => constant(x.v);

/**
 * Thermodynamic wet-bulb temperature, K.
 *
 * @param humidity  above zero and at most one.
 * @param free      an argument index that nothing uses.
 */
export function wetBulbTemperature(temperature: Dual, humidity: Dual, pressure: Dual, free: number): Dual {
  const vapour = vapourPressure(temperature, humidity);
  const excess =
    (t: Dual, ratio: Dual, p: Dual) =>
    (wet: Dual): Dual =>
      sub(ratioFromWetBulb(t, wet, p), ratio);
  const ratio = humidityRatio(vapour, pressure);
  const dew = saturationTemperature(plain(vapour), 0).v;
  const root = crossing(dew, temperature.v, excess(plain(temperature), plain(ratio), plain(pressure)));
  return implicit(root, free, excess(temperature, ratio, pressure));
}

/**
 * Temperature at which air leaves after it has taken up water to this relative humidity, all heat coming
 * from the air itself, K. `outletHumidity` must be above the humidity that the air came with.
 */
export function evaporationOutlet(
  temperature: Dual,
  humidity: Dual,
  outletHumidity: Dual,
  pressure: Dual,
  free: number,
): Dual {
  const vapour = vapourPressure(temperature, humidity);
  const excess =
    (t: Dual, ratio: Dual, leaving: Dual, p: Dual) =>
    (outlet: Dual): Dual => {
      const taken = humidityRatio(vapourPressure(outlet, leaving), p);
      const water = product(sub(taken, ratio), 4.186, celsius(outlet));
      return sum(enthalpy(outlet, taken), neg(water), neg(enthalpy(t, ratio)));
    };
  const ratio = humidityRatio(vapour, pressure);
  const lowest = saturationTemperature(constant(vapour.v / outletHumidity.v), 0).v;
  const root = crossing(
    lowest,
    temperature.v,
    excess(plain(temperature), plain(ratio), plain(outletHumidity), plain(pressure)),
  );
  return implicit(root, free, excess(temperature, ratio, outletHumidity, pressure));
}
