import { DENSITY, NONE, PRESSURE, TEMPERATURE } from "../../units/dimension.ts";
import { div, mul, sub } from "../dual.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import { vapourDensity, vapourPressure } from "../psychrometrics.ts";
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

export const saturationPressureFunction: FormulaFunction = {
  name: "saturation pressure",
  area: "moist air",
  says: "Pressure of water vapour in air that can hold no more, over ice below 0 degC.",
  parameters: [temperature("temperature", "air temperature")],
  gives: { dimension: PRESSURE, scale: "absolute", unit: "kPa(a)" },
  equation: "ln p_sat = C₁/T + C₂ + C₃·T + … + C·ln T, one set of constants for ice and one for water",
  assumes: ["pure water; over liquid water above 0.01 degC and over ice below"],
  validity: "−100 to 200 degC.",
  source: SATURATION_SOURCE,
  examples: [
    {
      formula: "saturation pressure(25 degC)",
      gives: "3.169 kPa(a)",
      source: "CRC Handbook of Chemistry and Physics, vapour-pressure table (reference row H006)",
    },
  ],
  compute(inputs) {
    const at = inputs.quantity("temperature");
    if (at.v <= 0) return refuse("The temperature is at or below absolute zero.");
    return value(saturationPressure(at));
  },
  outside: (inputs) => outsideSaturation(inputs, ["temperature"]),
};

export const waterInAir: FormulaFunction = {
  name: "water in air",
  area: "moist air",
  says: "Mass of water vapour in each cubic metre of air.",
  parameters: [
    temperature("temperature", "air temperature"),
    humidity("humidity", "relative humidity at that temperature"),
  ],
  gives: { dimension: DENSITY, scale: "plain", unit: "g/m3" },
  equation: "water = humidity · p_sat(temperature) / (461.52 J/(kg·K) · temperature)",
  assumes: ["water vapour as an ideal gas: 0.2 % low at 20 degC, 0.4 % low at 50 degC"],
  validity: "Up to about 60 degC.",
  source: SATURATION_SOURCE,
  caution:
    "A wet housing holds far more liquid than vapour: changing its air once takes away well under 0.1 g of water.",
  examples: [
    {
      formula: "water in air(20 degC, 50 %)",
      gives: "8.643 g/m3",
      source: "a published psychrometrics library and the ideal gas law (reference row H065)",
    },
  ],
  compute(inputs) {
    const at = inputs.quantity("temperature");
    const wet = inputs.quantity("humidity");
    if (at.v <= 0) return refuse("The temperature is at or below absolute zero.");
    if (wet.v < 0) return refuse("The humidity cannot be below zero.");
    return value(vapourDensity(vapourPressure(at, wet), at));
  },
  outside: (inputs) => [
    ...outsideSaturation(inputs, ["temperature"]),
    ...outsideHumidity(inputs, "humidity"),
  ],
};

export const dewMargin: FormulaFunction = {
  name: "dew margin",
  area: "moist air",
  says: "How far a surface is above the dew point of the air at it; at zero or below it, dew forms.",
  parameters: [
    temperature("surface temperature", "temperature of the coldest spot, such as the lens at night"),
    temperature("temperature", "air temperature"),
    humidity("humidity", "relative humidity of that air"),
  ],
  gives: { dimension: TEMPERATURE, scale: "difference", unit: "K" },
  equation: "margin = surface temperature − dew point(temperature, humidity)",
  assumes: ["the air at the surface holds as much water as the air that was measured"],
  validity: "−100 to 200 degC, humidity up to 100 %.",
  source: SATURATION_SOURCE,
  caution:
    "Keep a margin of a few kelvin: sensors, the wind and a clear night sky make a lens colder than the air (common practice, no source).",
  examples: [
    {
      formula: "dew margin(10 degC, 25 degC, 50 %)",
      gives: "-3.86 K",
      source: "a published psychrometrics library with the ASHRAE equations (reference row H072)",
    },
  ],
  compute(inputs) {
    const dew = dewPoint.compute(inputs);
    return dew.ok ? value(sub(inputs.quantity("surface temperature"), dew.value)) : dew;
  },
  outside: (inputs) => [
    ...outsideSaturation(inputs, ["temperature"]),
    ...outsideHumidity(inputs, "humidity"),
  ],
  remarks(inputs) {
    const margin = dewMargin.compute(inputs);
    return margin.ok && margin.value.v <= 0
      ? ["The surface is at or below the dew point, so water condenses on it."]
      : [];
  },
};

export const humidityFunctions: readonly FormulaFunction[] = [
  saturationPressureFunction,
  dewPoint,
  relativeHumidity,
  waterInAir,
  dewMargin,
];
