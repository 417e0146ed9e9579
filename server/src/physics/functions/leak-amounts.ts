import { LENGTH, NONE, PRESSURE, THROUGHPUT, TIME, VOLUME_FLOW } from "../../units/dimension.ts";
import { STANDARD_PRESSURE } from "../atmosphere.ts";
import { STANDARD_GRAVITY, ZERO_CELSIUS } from "../constants.ts";
import { div, mul, product } from "../dual.ts";
import type { FormulaFunction } from "../function.ts";
import { refuse, value } from "../function.ts";
import { ambient, quantity, ROOM_TEMPERATURE, temperature } from "./parameters.ts";

export const standardFlow: FormulaFunction = {
  name: "standard flow",
  area: "leak and flow",
  says: "A leak rate as a volume flow at standard conditions: 101.325 kPa and, unless said otherwise, 0 degC.",
  parameters: [
    quantity("leak rate", THROUGHPUT, "Pa.m3/s", "leak rate as pressure times volume per time"),
    temperature("temperature", "temperature of the gas when the leak rate was measured", ROOM_TEMPERATURE),
    temperature("reference", "temperature that the standard stands for", {
      value: 0,
      unit: "degC",
      tolerance: 0,
      says: "standard conditions of 101.325 kPa and 0 degC",
    }),
  ],
  gives: { dimension: VOLUME_FLOW, scale: "plain", unit: "cm3/min" },
  equation: "flow = leak rate / 101.325 kPa · reference / temperature",
  assumes: ["an ideal gas", "101.325 kPa as standard pressure"],
  validity: "Any leak rate.",
  source: "Ideal gas law; the standard cm³ of 0 degC agrees with ASTM E515: 1e-5 std cm³/s are 4.5e-10 mol/s",
  caution:
    "`Standard` means 0, 15, 20, 21.1 or 25 degC, up to 9 % apart: ask which one a limit was stated in, and give it as `reference`.",
  examples: [
    {
      formula: "standard flow(0.00168875 Pa.m3/s, temperature: 0 degC)",
      gives: "1.00000 cm3/min",
      source: "a public unit table: 1 standard cm³/min is 0.001689 Pa·m³/s (reference row L008)",
    },
  ],
  compute(inputs) {
    const gas = inputs.quantity("temperature");
    const reference = inputs.quantity("reference");
    if (gas.v <= 0 || reference.v <= 0) return refuse("A temperature is at or below absolute zero.");
    const atGas = div(inputs.quantity("leak rate"), STANDARD_PRESSURE);
    return value(div(mul(atGas, reference), gas));
  },
  remarks(inputs) {
    const said = [
      `Standard means 101.325 kPa and ${Number((inputs.quantity("reference").v - ZERO_CELSIUS).toFixed(2))} degC here.`,
    ];
    if (!inputs.given("temperature"))
      said.push("The gas is taken to have been at 20 degC ± 10 K when the leak rate was measured.");
    return said;
  },
};

export const bubbleLeakRate: FormulaFunction = {
  name: "bubble leak rate",
  area: "leak and flow",
  says: "Leak rate (pressure times volume per time) from soap or water bubbles that were counted.",
  parameters: [
    quantity("diameter", LENGTH, "mm", "diameter of one bubble as it lets go"),
    quantity("count", NONE, "", "number of bubbles"),
    quantity("time", TIME, "s", "time in which they were counted"),
    ambient("pressure"),
  ],
  gives: { dimension: THROUGHPUT, scale: "plain", unit: "Pa.m3/s" },
  equation: "leak rate = count · π/6 · diameter³ · pressure / time",
  assumes: [
    "round bubbles of one size, at ambient pressure",
    "every bubble was seen, and no gas went into the liquid",
  ],
  validity: "Bubbles that can be told apart, up to about ten a second.",
  source: "Volume of a sphere times pressure; sensitivity of bubble tests about 1e-5 std cm³/s by ASTM E515",
  caution:
    "No bubbles is weak evidence at a few kPa: surface tension holds them back at holes under about 80 µm in water, about 30 µm under a soap film, and such a hole can still pass some 15 cm³/min.",
  examples: [
    {
      formula: "bubble leak rate(3 mm, 2, 1 s, pressure: 101.325 kPa(a))",
      gives: "0.002864897 Pa.m3/s",
      source: "volume of a sphere times pressure, by plain arithmetic (reference row N011)",
    },
  ],
  compute(inputs) {
    const time = inputs.quantity("time");
    const diameter = inputs.quantity("diameter");
    if (time.v <= 0) return refuse("The time must be above zero.");
    if (diameter.v < 0 || inputs.quantity("count").v < 0)
      return refuse("The diameter and the count cannot be below zero.");
    const bubbles = product(inputs.quantity("count"), Math.PI / 6, diameter, diameter, diameter);
    return value(div(mul(bubbles, inputs.quantity("pressure")), time));
  },
  outside(inputs) {
    const count = inputs.quantity("count").v;
    if (count === 0)
      return [
        "No bubbles were counted. At a few kPa that is weak evidence: surface tension holds bubbles back at holes under about 80 µm, so it does not show that the part is tight.",
      ];
    return count / inputs.quantity("time").v > 10
      ? ["More than ten bubbles a second can hardly be counted; measure the flow instead."]
      : [];
  },
};

/** Densities in kg/m³ at 20 degC: water by IAPWS-IF97 (reference row S014), the others from memory. */
const LIQUIDS: ReadonlyMap<string, number> = new Map([
  ["water", 998.206],
  ["salt water", 1025],
  ["coolant", 1070],
]);

export const depthPressure: FormulaFunction = {
  name: "depth pressure",
  area: "leak and flow",
  says: "Gauge pressure at a depth below the surface of a liquid, for immersion and water tests.",
  parameters: [
    quantity("depth", LENGTH, "m", "depth below the surface"),
    {
      name: "liquid",
      says: "water, salt water or coolant",
      takes: { kind: "choice", of: [...LIQUIDS.keys()] },
      optional: { choice: "water", says: "water at 20 degC" },
    },
  ],
  gives: { dimension: PRESSURE, scale: "gauge", unit: "kPa" },
  equation: "pressure = density · 9.80665 m/s² · depth",
  assumes: [
    "water of 998.2 kg/m³ (20 degC), salt water 1025, coolant half glycol 1070 kg/m³ (both from memory)",
  ],
  validity: "Still liquid; a jet of water presses harder than its depth.",
  source: "Hydrostatic pressure with standard gravity; density of water by IAPWS-IF97",
  caution: "Take power off and let a warm part cool first: a hot housing in cold water draws the water in.",
  examples: [
    {
      formula: "depth pressure(1 m)",
      gives: "9.789 kPa",
      source: "density by IAPWS-IF97 times gravity (reference row S014)",
    },
  ],
  compute(inputs) {
    const depth = inputs.quantity("depth");
    if (depth.v < 0) return refuse("The depth cannot be below zero.");
    return value(mul(depth, STANDARD_GRAVITY * (LIQUIDS.get(inputs.choice("liquid")) ?? 998.206)));
  },
};

export const leakAmountFunctions: readonly FormulaFunction[] = [standardFlow, bubbleLeakRate, depthPressure];
