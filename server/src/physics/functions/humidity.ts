import { NONE, TEMPERATURE } from "../../units/dimension.ts";
import { div, mul } from "../dual.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import { SATURATION_RANGE, saturationPressure, saturationTemperature } from "../saturation.ts";
import { humidity, temperature } from "./parameters.ts";

export const SATURATION_SOURCE =
  "Hyland and Wexler's saturation equations as in the ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 5 and 6";

/** Sentences for temperatures that the saturation equations do not cover. */
export function outsideSaturation(inputs: Inputs, names: readonly string[]): readonly string[] {
  return names
    .filter((name) => {
      const at = inputs.maybe(name)?.v ?? SATURATION_RANGE.from;
      return at < SATURATION_RANGE.from || at > SATURATION_RANGE.to;
    })
    .map((name) => `The ${name} is outside −100 to 200 degC, where the saturation equations hold.`);
}

export function outsideHumidity(inputs: Inputs, name: string): readonly string[] {
  return inputs.quantity(name).v > 1
    ? [`The ${name} is over 100 %, which air does not hold: check the sensor, or whether it was wet.`]
    : [];
}

export const DRY_AIR =
  "A humidity of zero or less has no dew point. Give the humidity as a percentage above zero, such as 45 %.";

export const dewPoint: FormulaFunction = {
  name: "dew point",
  area: "moist air",
  says: "Temperature at which air of this temperature and relative humidity begins to leave dew (frost below 0 degC).",
  parameters: [
    temperature("temperature", "air temperature"),
    humidity("humidity", "relative humidity at that temperature"),
  ],
  gives: { dimension: TEMPERATURE, scale: "point", unit: "degC" },
  equation: "p_sat(dew point) = humidity · p_sat(temperature)",
  assumes: [
    "relative humidity as against liquid water above 0.01 degC and against ice below",
    "the pressure plays no part (ideal mixture of air and vapour)",
  ],
  validity: "−100 to 200 degC, humidity up to 100 %.",
  source: SATURATION_SOURCE,
  caution:
    "Many humidity sensors are off by 3 % or more, and slow: wait until the reading stands still before trusting a dew point.",
  examples: [
    {
      formula: "dew point(25 degC, 50 %)",
      gives: "13.86 degC",
      source: "a published psychrometrics library with the ASHRAE equations (reference row H035)",
    },
  ],
  compute(inputs) {
    const at = inputs.quantity("temperature");
    const wet = inputs.quantity("humidity");
    if (at.v <= 0) return refuse("The temperature is at or below absolute zero.");
    if (wet.v <= 0) return refuse(DRY_AIR);
    return value(saturationTemperature(mul(wet, saturationPressure(at)), inputs.free));
  },
  outside: (inputs) => [
    ...outsideSaturation(inputs, ["temperature"]),
    ...outsideHumidity(inputs, "humidity"),
  ],
};

export const relativeHumidity: FormulaFunction = {
  name: "relative humidity",
  area: "moist air",
  says: "Relative humidity of air from its temperature and its dew point.",
  parameters: [
    temperature("temperature", "air temperature"),
    temperature("dew point", "dew point of the air"),
  ],
  gives: { dimension: NONE, scale: "plain", unit: "%" },
  equation: "humidity = p_sat(dew point) / p_sat(temperature)",
  assumes: [
    "relative humidity as against liquid water above 0.01 degC and against ice below",
    "the pressure plays no part (ideal mixture of air and vapour)",
  ],
  validity: "−100 to 200 degC, dew point not above the air temperature.",
  source: SATURATION_SOURCE,
  examples: [
    {
      formula: "relative humidity(25 degC, 13.86397 degC)",
      gives: "50.00 %",
      source:
        "a published psychrometrics library with the ASHRAE equations (reference row H035, turned round)",
    },
  ],
  compute(inputs) {
    const at = inputs.quantity("temperature");
    const dew = inputs.quantity("dew point");
    if (at.v <= 0 || dew.v <= 0) return refuse("A temperature is at or below absolute zero.");
    return value(div(saturationPressure(dew), saturationPressure(at)));
  },
  outside(inputs, result) {
    const said = [...outsideSaturation(inputs, ["temperature", "dew point"])];
    if (result > 1)
      said.push(
        "The dew point is above the air temperature, which cannot last: water is condensing, or the two were not read together.",
      );
    return said;
  },
};

export const humidityFunctions: readonly FormulaFunction[] = [dewPoint, relativeHumidity];
