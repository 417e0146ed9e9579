/**
 * Air pressure by altitude in the standard atmosphere, ISO 2533:1975 (the ICAO standard atmosphere): the
 * layer in which temperature falls by 6.5 K per kilometre.
 */

/** Pressure at sea level, pascals. */
export const STANDARD_PRESSURE = 101_325;
/** Temperature at sea level, kelvin. */
const STANDARD_TEMPERATURE = 288.15;
/** Fall of temperature with altitude, kelvin per metre. */
const LAPSE = 0.0065;
/** Gravity in m/s² over the gas constant of dry air in J/(kg·K) and the lapse: the exponent of the law. */
const EXPONENT = 9.80665 / (287.05287 * LAPSE);

/** Where the layer, and with it this law, holds. Metres. */
export const LOWEST_ALTITUDE = -500;
export const HIGHEST_ALTITUDE = 11_000;

/**
 * Absolute pressure in pascals at an altitude in metres. Beyond the layer it stays at the layer's end; the
 * shop file's reader reports such an altitude, so it never gets here.
 *
 * The altitude counts as geopotential, which at workshop altitudes is the height on the map: at 4,000 m the
 * two are some 20 Pa apart. The weather moves the true pressure by some 3 kPa either way (common practice, no
 * source), so a barometer's reading goes before this value.
 */
export function standardPressure(altitude: number): number {
  const height = Math.min(Math.max(altitude, LOWEST_ALTITUDE), HIGHEST_ALTITUDE);
  return STANDARD_PRESSURE * (1 - (LAPSE * height) / STANDARD_TEMPERATURE) ** EXPONENT;
}
