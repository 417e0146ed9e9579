/**
 * Moist air as an ideal mixture, after the ASHRAE Handbook, Fundamentals (2017), chapter 1.
 * Temperatures in kelvin, pressures in pascal, humidity ratio in kg of water for each kg of dry air.
 */
import type { Dual } from "./dual.ts";
import { add, constant, div, implicit, mul, neg, product, sub, sum } from "./dual.ts";
import { ZERO_CELSIUS } from "./gas.ts";
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

/** The place between two others where a rising function passes zero, on plain numbers. */
function crossing(low: number, high: number, f: (x: number) => number): number {
  let below = low;
  let above = high;
  for (let i = 0; i < 100 && above - below > 1e-13 * above; i++) {
    const middle = (below + above) / 2;
    if (f(middle) < 0) below = middle;
    else above = middle;
  }
  return (below + above) / 2;
}

/**
 * Thermodynamic wet-bulb temperature, K.
 *
 * @param humidity  above zero and at most one.
 * @param free      an argument index that nothing uses.
 */
export function wetBulbTemperature(temperature: Dual, humidity: Dual, pressure: Dual, free: number): Dual {
  const vapour = vapourPressure(temperature, humidity);
  const ratio = humidityRatio(vapour, pressure);
  const excess = (wet: Dual): Dual => sub(ratioFromWetBulb(temperature, wet, pressure), ratio);
  const dew = saturationTemperature(constant(vapour.v), free).v;
  const root = crossing(dew, temperature.v, (x) => excess(constant(x)).v);
  return implicit(root, free, excess);
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
  const ratio = humidityRatio(vapour, pressure);
  const inlet = enthalpy(temperature, ratio);
  const excess = (outlet: Dual): Dual => {
    const taken = humidityRatio(vapourPressure(outlet, outletHumidity), pressure);
    const water = product(sub(taken, ratio), 4.186, celsius(outlet));
    return sum(enthalpy(outlet, taken), neg(water), neg(inlet));
  };
  const lowest = saturationTemperature(constant(vapour.v / outletHumidity.v), free).v;
  const root = crossing(lowest, temperature.v, (x) => excess(constant(x)).v);
  return implicit(root, free, excess);
}
