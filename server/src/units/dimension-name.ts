import * as dimensions from "./dimension.ts";

const NAMES: ReadonlyMap<dimensions.Dimension, string> = new Map([
  [dimensions.NONE, "a plain number"],
  [dimensions.LENGTH, "a length"],
  [dimensions.MASS, "a mass"],
  [dimensions.TIME, "a time"],
  [dimensions.CURRENT, "a current"],
  [dimensions.TEMPERATURE, "a temperature"],
  [dimensions.AREA, "an area"],
  [dimensions.VOLUME, "a volume"],
  [dimensions.SPEED, "a speed"],
  [dimensions.FORCE, "a force"],
  [dimensions.PRESSURE, "a pressure"],
  [dimensions.ENERGY, "an energy or torque"],
  [dimensions.POWER, "a power or leak rate"],
  [dimensions.VOLUME_FLOW, "a volume flow"],
  [dimensions.MASS_FLOW, "a mass flow"],
  [dimensions.DENSITY, "a density"],
  [dimensions.VOLTAGE, "a voltage"],
  [dimensions.RESISTANCE, "a resistance"],
  [dimensions.CHARGE, "a charge"],
  [dimensions.FREQUENCY, "a rate per time"],
  [dimensions.CAPACITANCE, "a capacitance"],
  [dimensions.INDUCTANCE, "an inductance"],
  [dimensions.VISCOSITY, "a viscosity"],
  [dimensions.AMOUNT, "an amount of substance"],
  [dimensions.LUMINOUS_INTENSITY, "a luminous intensity"],
]);

/** What a quantity of this dimension is in everyday words, with its article; undefined where it has none. */
export function describeDimension(dimension: dimensions.Dimension): string | undefined {
  return NAMES.get(dimension);
}
