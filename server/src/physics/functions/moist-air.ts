import { NONE, TEMPERATURE } from "../../units/dimension.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import { humidityRatio, vapourPressure, wetBulbTemperature } from "../psychrometrics.ts";
import { outsideHumidity, outsideSaturation } from "./humidity.ts";
import { ambient, humidity, temperature } from "./parameters.ts";

const SOURCE =
  "ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 20, 33 and 35, with Hyland and Wexler's saturation equations";

const STEAM =
  "At this temperature and humidity the vapour alone would be at or above the ambient pressure: it is steam, no air is left.";

const parameters = [
  temperature("temperature", "air temperature"),
  humidity("humidity", "relative humidity at that temperature"),
  ambient(),
];

const outside = (inputs: Inputs): readonly string[] => [
  ...outsideSaturation(inputs, ["temperature"]),
  ...outsideHumidity(inputs, "humidity"),
];

export const humidityRatioFunction: FormulaFunction = {
  name: "humidity ratio",
  area: "moist air",
  says: "Mass of water vapour for each mass of dry air; it stays the same while air is only warmed or cooled.",
  parameters,
  gives: { dimension: NONE, scale: "plain", unit: "g/kg" },
  equation: "ratio = 0.621945 · p_vapour / (ambient − p_vapour), p_vapour = humidity · p_sat(temperature)",
  assumes: ["air and vapour as ideal gases: up to 0.6 % low at 50 degC and saturation"],
  validity: "Vapour pressure below the ambient pressure.",
  source: SOURCE,
  examples: [
    {
      formula: "humidity ratio(25 degC, 100 %, ambient: 101.325 kPa(a))",
      gives: "20.08 g/kg",
      source:
        "a published psychrometrics library; ASHRAE table 2 has 20.17 for real air (reference row H022)",
    },
  ],
  compute(inputs) {
    const at = inputs.quantity("temperature");
    const wet = inputs.quantity("humidity");
    if (at.v <= 0) return refuse("The temperature is at or below absolute zero.");
    if (wet.v < 0) return refuse("The humidity cannot be below zero.");
    const vapour = vapourPressure(at, wet);
    const pressure = inputs.quantity("ambient");
    return vapour.v < pressure.v ? value(humidityRatio(vapour, pressure)) : refuse(STEAM);
  },
  outside,
};

export const wetBulb: FormulaFunction = {
  name: "wet bulb",
  area: "moist air",
  says: "Temperature that a wet surface takes in moving air: how cool a wet housing stays while it dries.",
  parameters,
  gives: { dimension: TEMPERATURE, scale: "point", unit: "degC" },
  equation: "humidity ratio(temperature, humidity) = humidity ratio of the wet-bulb balance at the wet bulb",
  assumes: ["the thermodynamic wet bulb; a real wet thermometer needs moving air to come near it"],
  validity: "−100 to 200 degC, humidity up to 100 %, vapour pressure below the ambient pressure.",
  source: SOURCE,
  examples: [
    {
      formula: "wet bulb(25 degC, 50 %, ambient: 101.325 kPa(a))",
      gives: "17.89 degC",
      source: "a published psychrometrics library with the ASHRAE equations (reference row H074)",
    },
  ],
  compute(inputs) {
    const at = inputs.quantity("temperature");
    const wet = inputs.quantity("humidity");
    const pressure = inputs.quantity("ambient");
    if (at.v <= 0) return refuse("The temperature is at or below absolute zero.");
    if (wet.v <= 0) return refuse("The humidity must be above zero. Give it as a percentage such as 45 %.");
    if (wet.v > 1)
      return refuse("The humidity is over 100 %, which air does not hold, so there is no wet bulb.");
    if (vapourPressure(at, wet).v >= pressure.v) return refuse(STEAM);
    return value(wetBulbTemperature(at, wet, pressure, inputs.free));
  },
  outside,
};

export const moistAirFunctions: readonly FormulaFunction[] = [humidityRatioFunction, wetBulb];
