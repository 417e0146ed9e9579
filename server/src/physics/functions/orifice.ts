import { LENGTH, VOLUME_FLOW } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { add, div, mul, product, sqrt } from "../dual.ts";
import type { FormulaFunction, Inputs, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { gasNamed } from "../gas.ts";
import { isChoked, nozzleFunction } from "../nozzle.ts";
import {
  absolutePressure,
  ambient,
  discharge,
  gasChoice,
  gaugePressure,
  NOTHING,
  quantity,
  ROOM_TEMPERATURE,
  temperature,
} from "./parameters.ts";

/** Below this Reynolds number friction makes a real pinhole pass less than a discharge coefficient says. */
const LOWEST_REYNOLDS = 500;

const SOURCE =
  "Isentropic nozzle flow (Saint-Venant and Wantzel) times a discharge coefficient; critical ratio 0.528 as in Cengel and Cimbala, Fluid Mechanics, Table 12-2";

const ASSUMES = [
  "an equivalent sharp-edged hole: the true opening has another shape and size",
  "discharge coefficient 0.6 ± 0.1 unless given (common practice, no source)",
  "an ideal gas whose volume flow is stated at the pressure and temperature upstream of the hole",
  "without `upstream`, the pressure upstream is ambient pressure plus the drop (a housing under pressure)",
];

const CAUTION =
  "The size stands for one clean round hole. A seam, a crack or a porous spot with the same flow looks different; several leaks add up to it.";

const flowConditions: readonly Parameter[] = [
  absolutePressure(
    "upstream",
    "absolute pressure before the hole; ambient plus the drop if left out",
    NOTHING,
  ),
  temperature("temperature", "temperature of the gas before the hole", ROOM_TEMPERATURE),
  gasChoice,
  discharge,
  ambient(),
];

interface Conditions {
  readonly upstream: Dual;
  readonly dropShare: Dual;
  /** Volume flow for each square metre of hole, m/s. */
  readonly flux: Dual;
}

const CHOKED =
  "The flow is choked: a lower pressure behind the hole would not raise it, and a sharp-edged hole then passes up to a third more than the coefficient 0.6 says (from memory). Give `discharge` if it is known.";

/** Flow per area at the upstream state, or the sentence that says why there is none. */
function conditions(inputs: Inputs): Conditions | string {
  const drop = inputs.quantity("drop");
  if (drop.v < 0)
    return "The pressure drop is below zero. For a part under vacuum give the drop as a positive pressure and `upstream` as the ambient pressure, as the air flows inwards.";
  const upstream = inputs.maybe("upstream") ?? add(inputs.quantity("ambient"), drop);
  if (upstream.v <= 0) return "The pressure before the hole must be above zero absolute.";
  if (drop.v > upstream.v)
    return "The pressure drop is more than the absolute pressure before the hole, which cannot be. Check whether `upstream` is absolute.";
  const gas = gasNamed(inputs.choice("gas"));
  const dropShare = div(drop, upstream);
  const speed = sqrt(mul(inputs.quantity("temperature"), gas.constant));
  const flux = product(inputs.quantity("discharge"), speed, nozzleFunction(dropShare, gas.gamma));
  return { upstream, dropShare, flux };
}

const area = (diameter: Dual): Dual => product(Math.PI / 4, diameter, diameter);

/** Sentences about where the hole formula stops to hold. */
function hints(inputs: Inputs, diameter: number, flow: number): readonly string[] {
  const at = conditions(inputs);
  if (typeof at === "string") return [];
  const gas = gasNamed(inputs.choice("gas"));
  const said: string[] = [];
  if (at.dropShare.v === 0)
    said.push("There is no pressure drop, so nothing flows and the result has no meaningful uncertainty.");
  if (isChoked(at.dropShare.v, gas.gamma) && !inputs.given("discharge")) said.push(CHOKED);
  const massFlow = (flow * at.upstream.v) / (gas.constant * inputs.quantity("temperature").v);
  const reynolds = (4 * massFlow) / (Math.PI * diameter * gas.viscosity);
  if (diameter > 0 && at.dropShare.v > 0 && reynolds < LOWEST_REYNOLDS)
    said.push(
      `The hole is so small (Reynolds number ${reynolds.toPrecision(2)}, below ${LOWEST_REYNOLDS}) that friction slows the flow: the true opening is larger than the formula says for this flow.`,
    );
  return said;
}

export const orificeFlow: FormulaFunction = {
  name: "orifice flow",
  area: "leak and flow",
  says: "Volume flow of gas through a sharp-edged hole, at the pressure and temperature before the hole.",
  parameters: [
    quantity("diameter", LENGTH, "mm", "diameter of the hole"),
    gaugePressure("drop", "pressure before the hole minus pressure behind it"),
    ...flowConditions,
  ],
  gives: { dimension: VOLUME_FLOW, scale: "plain", unit: "L/min" },
  equation: "flow = discharge · π/4 · diameter² · √(R · T) · ψ(drop / upstream)",
  assumes: ASSUMES,
  validity:
    "Holes with a Reynolds number above about 500; subsonic and choked flow, a choked sharp-edged hole passing somewhat more.",
  source: SOURCE,
  caution: CAUTION,
  examples: [
    {
      formula: "orifice flow(0.02 in, 14 inH2O, temperature: 20 degC, ambient: 101.325 kPa(a))",
      gives: "0.536 L/min",
      source:
        "the isentropic nozzle in plain arithmetic: 1.1131e-5 kg/s (reference row O035) at 1.2456 kg/m3 before the hole",
    },
  ],
  compute(inputs) {
    const diameter = inputs.quantity("diameter");
    if (diameter.v < 0) return refuse("The diameter of a hole cannot be below zero.");
    const at = conditions(inputs);
    return typeof at === "string" ? refuse(at) : value(mul(area(diameter), at.flux));
  },
  outside: (inputs, result) => hints(inputs, inputs.quantity("diameter").v, result),
};

export const orificeSize: FormulaFunction = {
  name: "orifice size",
  area: "leak and flow",
  says: "Diameter of the sharp-edged hole that passes this flow at this pressure drop.",
  parameters: [
    quantity("flow", VOLUME_FLOW, "L/min", "volume flow, at the pressure and temperature before the hole"),
    gaugePressure("drop", "pressure before the hole minus pressure behind it"),
    ...flowConditions,
  ],
  gives: { dimension: LENGTH, scale: "plain", unit: "mm" },
  equation: "diameter = √(4 · flow / (π · discharge · √(R · T) · ψ(drop / upstream)))",
  assumes: ASSUMES,
  validity:
    "Holes with a Reynolds number above about 500; subsonic and choked flow, a choked sharp-edged hole passing somewhat more.",
  source: SOURCE,
  caution: CAUTION,
  examples: [
    {
      formula: "orifice size(0.53618 L/min, 14 inH2O, temperature: 20 degC, ambient: 101.325 kPa(a))",
      gives: "0.508 mm",
      source: "the same nozzle flow as for `orifice flow`: a hole of 0.020 in is 0.508 mm by definition",
    },
  ],
  compute(inputs) {
    const flow = inputs.quantity("flow");
    if (flow.v < 0)
      return refuse("The flow is below zero. Give it as a positive number; the drop tells the direction.");
    const at = conditions(inputs);
    if (typeof at === "string") return refuse(at);
    if (at.flux.v === 0)
      return refuse(
        "With no pressure drop no size can be told from a flow. Measure the drop across the leak.",
      );
    if (flow.v === 0)
      return refuse(
        "No flow was measured, so there is no hole size to tell: only that the leak is below what the meter shows. Put in the smallest flow the meter can show to get that limit.",
      );
    return value(sqrt(div(mul(flow, 4 / Math.PI), at.flux)));
  },
  outside: (inputs, result) => hints(inputs, result, inputs.quantity("flow").v),
};

export const orificeFunctions: readonly FormulaFunction[] = [orificeFlow, orificeSize];
