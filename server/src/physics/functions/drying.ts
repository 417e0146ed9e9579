import { MASS, TIME, VOLUME, VOLUME_FLOW } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { div, mul, product, sub } from "../dual.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import {
  evaporationOutlet,
  humidityRatio,
  specificVolume,
  vapourDensity,
  vapourPressure,
} from "../psychrometrics.ts";
import { outsideHumidity, outsideSaturation } from "./humidity.ts";
import { ambient, humidity, NOTHING, quantity, temperature } from "./parameters.ts";

const TOO_HOT =
  "Keep warm air on an assembled lamp or module below what its maker allows; drying temperatures for raw plastic pellets do not apply. None is published for lamps, so stay cautious (no source).";

const NO_UPTAKE =
  "The air leaves with no more water than it brought in, so it dries nothing. Use drier or warmer air.";

/** Humidity ratio of the air that leaves, or the sentence that says why there is none. */
function outletRatio(inputs: Inputs, inletRatio: Dual): Dual | string {
  const inlet = inputs.quantity("inlet temperature");
  const entering = inputs.quantity("inlet humidity");
  const leaving = inputs.quantity("outlet humidity");
  const pressure = inputs.quantity("ambient");
  const given = inputs.maybe("outlet temperature");
  if (!given && leaving.v <= entering.v) return NO_UPTAKE;
  const outlet = given ?? evaporationOutlet(inlet, entering, leaving, pressure, inputs.free);
  if (outlet.v <= 0) return "The outlet temperature is at or below absolute zero.";
  const vapour = vapourPressure(outlet, leaving);
  if (vapour.v >= pressure.v) return "At that outlet temperature and humidity no air is left, only steam.";
  const ratio = humidityRatio(vapour, pressure);
  return ratio.v > inletRatio.v ? ratio : NO_UPTAKE;
}

export const dryingTime: FormulaFunction = {
  name: "drying time",
  area: "moist air",
  says: "Time that a flow of air needs at best to carry this much water out of a housing.",
  parameters: [
    quantity("water mass", MASS, "g", "mass of liquid water inside"),
    quantity("air flow", VOLUME_FLOW, "L/min", "flow of air, at the state in which it enters"),
    temperature("inlet temperature", "temperature of the air that enters"),
    humidity("inlet humidity", "relative humidity of that air at that temperature"),
    humidity("outlet humidity", "relative humidity of the air that leaves", {
      value: 70,
      unit: "%",
      tolerance: 30,
      says: "air that leaves at 70 % ± 30 % (common practice, no source)",
    }),
    temperature(
      "outlet temperature",
      "temperature of the air that leaves, when the housing is heated; left out, the air cools by the water it takes up",
      NOTHING,
    ),
    ambient(),
  ],
  gives: { dimension: TIME, scale: "plain", unit: "min" },
  equation: "time = water mass / (dry-air mass flow · (humidity ratio leaving − humidity ratio entering))",
  assumes: [
    "the air passes over the water all the time; water in corners, seams and foam takes longer",
    "without an outlet temperature no heat comes in but with the air",
  ],
  validity: "Air between 0 and 100 degC that takes up water.",
  source:
    "Water balance on a dry-air basis, ASHRAE Handbook, Fundamentals (2017), chapter 1 (reference rows H067 to H069)",
  caution: TOO_HOT,
  examples: [
    {
      formula:
        "drying time(5 g, 10 L/min, 20 degC, 30 %, outlet humidity: 50 %, outlet temperature: 40 degC, ambient: 101.325 kPa(a))",
      gives: "21.8 min",
      source: "a published psychrometrics library and the water balance (reference rows H068 and H069)",
    },
  ],
  compute(inputs) {
    const inlet = inputs.quantity("inlet temperature");
    const entering = inputs.quantity("inlet humidity");
    const leaving = inputs.quantity("outlet humidity");
    const flow = inputs.quantity("air flow");
    const pressure = inputs.quantity("ambient");
    if (flow.v <= 0) return refuse("The air flow must be above zero.");
    if (inputs.quantity("water mass").v < 0) return refuse("The mass of water cannot be below zero.");
    if (inlet.v <= 0) return refuse("The inlet temperature is at or below absolute zero.");
    if (entering.v <= 0 || leaving.v <= 0 || leaving.v > 1 || entering.v > 1)
      return refuse("Humidities must lie above 0 and not over 100 %.");
    const vapour = vapourPressure(inlet, entering);
    if (vapour.v >= pressure.v) return refuse("The air that enters would be steam alone.");
    const inletRatio = humidityRatio(vapour, pressure);
    const leavingRatio = outletRatio(inputs, inletRatio);
    if (typeof leavingRatio === "string") return refuse(leavingRatio);
    const dryAir = div(flow, specificVolume(inlet, inletRatio, pressure));
    return value(div(inputs.quantity("water mass"), mul(dryAir, sub(leavingRatio, inletRatio))));
  },
  outside(inputs) {
    const inlet = inputs.quantity("inlet temperature").v;
    const said = [...outsideSaturation(inputs, ["inlet temperature"])];
    if (inlet < 273.15)
      said.push("The air is below 0 degC: ice dries far more slowly than this says. Warm the part first.");
    return said;
  },
  remarks: () => [
    "This is a shortest time. Prove dryness by looking after cooling down, or by a humidity reading inside, never by the time alone.",
  ],
};

export const waterBreathed: FormulaFunction = {
  name: "water breathed",
  area: "moist air",
  says: "Water vapour that one cycle of warming and cooling draws into a vented housing.",
  parameters: [
    quantity("volume", VOLUME, "L", "volume of air in the housing"),
    temperature("low temperature", "temperature of the housing when cold"),
    temperature("high temperature", "temperature of the housing when warm"),
    humidity("humidity", "relative humidity of the air outside, at the low temperature"),
  ],
  gives: { dimension: MASS, scale: "plain", unit: "mg" },
  equation: "water = volume · (high − low) / high · water in air(low temperature, humidity)",
  assumes: [
    "the air that is drawn in has the low temperature",
    "all the vapour stays inside: what the next warming breathes out again is not taken off",
  ],
  validity: "One slow cycle with open vents; a most unfavourable figure.",
  source: "Charles's law with the ideal gas law for the vapour; saturation pressure as in ASHRAE (2017)",
  caution:
    "Rain or washing while the part cools draws in liquid water, a thousand times more than vapour for the same volume.",
  examples: [
    {
      formula: "water breathed(5 L, 10 degC, 50 degC, 90 %)",
      gives: "5.23 mg",
      source: "plain arithmetic: 5 L · 40/323.15 of air with 0.9 · 1228 Pa / (461.52 J/(kg·K) · 283.15 K)",
    },
  ],
  compute(inputs) {
    const low = inputs.quantity("low temperature");
    const high = inputs.quantity("high temperature");
    const wet = inputs.quantity("humidity");
    if (low.v <= 0) return refuse("The low temperature is at or below absolute zero.");
    if (high.v < low.v) return refuse("The high temperature must be above the low one.");
    if (wet.v < 0) return refuse("The humidity cannot be below zero.");
    const drawn = div(mul(inputs.quantity("volume"), sub(high, low)), high);
    return value(product(drawn, vapourDensity(vapourPressure(low, wet), low)));
  },
  outside: (inputs) => [
    ...outsideSaturation(inputs, ["low temperature"]),
    ...outsideHumidity(inputs, "humidity"),
  ],
};

export const dryingFunctions: readonly FormulaFunction[] = [dryingTime, waterBreathed];
