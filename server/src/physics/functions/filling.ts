import { TIME, VOLUME, VOLUME_FLOW } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { add, div, log1p, mul, neg, polynomial, product, sub } from "../dual.ts";
import type { FormulaFunction } from "../function.ts";
import { refuse, value } from "../function.ts";
import { ambient, gaugePressure, quantity, temperature } from "./parameters.ts";

/** Terms of the series 1/2 + y/3 + y²/4 + …, enough for all digits up to y = 0.1. */
const SERIES = Array.from({ length: 18 }, (_, k) => 1 / (k + 2));

/**
 * (−y − ln(1 − y)) / y²: how much longer than with a tight part the filling takes, times one half.
 * Near zero the closed form cancels, so the series takes over.
 */
function slowing(y: Dual): Dual {
  if (y.v < 0.1) return polynomial(y, SERIES);
  return div(neg(add(log1p(neg(y)), y)), mul(y, y));
}

export const fillTime: FormulaFunction = {
  name: "fill time",
  area: "leak and flow",
  says: "Time to bring a part from ambient to a gauge pressure with a steady flow, a leak included.",
  parameters: [
    quantity("volume", VOLUME, "L", "volume of the part and its hoses"),
    quantity("flow", VOLUME_FLOW, "L/min", "steady flow of the supply, at ambient pressure"),
    gaugePressure("pressure", "gauge pressure to reach"),
    quantity("leak", VOLUME_FLOW, "L/min", "flow that leaks at that pressure, at ambient pressure", {
      value: 0,
      unit: "L/min",
      tolerance: 0,
      says: "no leak",
    }),
    ambient(),
  ],
  gives: { dimension: TIME, scale: "plain", unit: "s" },
  equation:
    "time = 2 · volume · pressure / (ambient · flow) · (−y − ln(1 − y)) / y², with y = leak / flow; volume · pressure / (ambient · flow) when tight",
  assumes: [
    "the supply gives the same flow up to the end",
    "the leak grows with the square root of the pressure, as through a hole",
    "a rigid volume, filled slowly enough to keep its temperature",
  ],
  validity: "A leak smaller than the flow of the supply.",
  source: "Mass balance of an ideal gas at one temperature, integrated in closed form",
  caution:
    "Fill through a regulator set to the test pressure, never by time alone: a blocked hose or a smaller volume gets there sooner.",
  examples: [
    {
      formula: "fill time(50 L, 10 L/min, 14 inH2O, ambient: 101.325 kPa(a))",
      gives: "10.325 s",
      source: "50 L times 3487.24 Pa over 101325 Pa is 1.7208 L of air, in plain arithmetic",
    },
  ],
  compute(inputs) {
    const flow = inputs.quantity("flow");
    const leak = inputs.quantity("leak");
    const pressure = inputs.quantity("pressure");
    if (flow.v <= 0) return refuse("The flow of the supply must be above zero.");
    if (leak.v < 0) return refuse("The leak cannot be below zero.");
    if (inputs.quantity("volume").v <= 0) return refuse("The volume must be above zero.");
    if (pressure.v < 0) return refuse("The pressure to reach must not be below zero gauge.");
    if (leak.v >= flow.v)
      return refuse(
        "The leak passes as much as the supply gives, so the pressure is never reached. Look for the large leak first.",
      );
    const tight = div(mul(inputs.quantity("volume"), pressure), mul(inputs.quantity("ambient"), flow));
    return value(product(2, tight, slowing(div(leak, flow))));
  },
  remarks(inputs) {
    const air = (inputs.quantity("volume").v * inputs.quantity("pressure").v) / inputs.quantity("ambient").v;
    return air < inputs.quantity("flow").v
      ? ["It fills in about a second or less, too fast to stop by hand: throttle the supply first."]
      : [];
  },
};

export const breathedVolume: FormulaFunction = {
  name: "breathed volume",
  area: "leak and flow",
  says: "Air that a vented housing breathes out when it warms (above zero) or draws in when it cools (below zero).",
  parameters: [
    quantity("volume", VOLUME, "L", "volume of air in the housing"),
    temperature("temperature", "temperature of the air inside before"),
    temperature("new temperature", "temperature of the air inside afterwards"),
  ],
  gives: { dimension: VOLUME, scale: "plain", unit: "L" },
  equation: "breathed = volume · (new temperature − temperature) / temperature",
  assumes: [
    "open vents, so that the pressure stays at ambient",
    "the volume is counted at the new temperature",
  ],
  validity: "Ideal gas at constant pressure.",
  source: "Charles's law",
  caution: "A lamp that cools under a spray of water draws the water in through its vents and any leak.",
  examples: [
    {
      formula: "breathed volume(5 L, 60 degC, 20 degC)",
      gives: "-0.600 L",
      source: "Charles's law in plain arithmetic: 5 L · 40 / 333.15",
    },
  ],
  compute(inputs) {
    const before = inputs.quantity("temperature");
    const after = inputs.quantity("new temperature");
    if (before.v <= 0 || after.v <= 0) return refuse("A temperature is at or below absolute zero.");
    return value(div(mul(inputs.quantity("volume"), sub(after, before)), before));
  },
};

export const fillingFunctions: readonly FormulaFunction[] = [fillTime, breathedVolume];
