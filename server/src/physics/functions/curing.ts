import { LENGTH, TIME } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { constant, div, mul } from "../dual.ts";
import type { FormulaFunction, Inputs, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { vapourPressure } from "../psychrometrics.ts";
import { humidity, materialNamed, NOTHING, ofMaterial, quantity, temperature } from "./parameters.ts";

const shopAir: readonly Parameter[] = [
  temperature("temperature", "temperature of the air; as on the data sheet if left out", NOTHING),
  humidity("humidity", "relative humidity of the air; as on the data sheet if left out", NOTHING),
];

const sheetAir: readonly Parameter[] = [
  ofMaterial(
    temperature("sheet temperature", "temperature that the data sheet states", {
      value: 23,
      unit: "degC",
      tolerance: 0,
      says: "data sheet at 23 degC",
    }),
    "cure temperature",
  ),
  ofMaterial(
    humidity("sheet humidity", "relative humidity that the data sheet states", {
      value: 50,
      unit: "%",
      tolerance: 0,
      says: "data sheet at 50 % humidity",
    }),
    "cure humidity",
  ),
  materialNamed,
];

/** Thickest section that one data sheet of this kind allows, m (reference row C005). */
const THICKEST = 6e-3;

const SOURCE =
  "Diffusion-limited cure, depth² in step with time and with the water vapour in the air (law from memory, no citable source), anchored on the data sheet's own point";

const ASSUMES = [
  "a one-part sealant that cures by moisture from the air; two-part and light-curing ones follow other laws",
  "the rate goes with the pressure of the water vapour in the air (from memory)",
];

const CAUTION =
  "The data sheet of the sealant goes before this estimate. Leave the vents open while it cures and put no pressure on the seam.";

/** How much longer than on the data sheet curing takes in this air, or why that cannot be told. */
function slowing(inputs: Inputs): Dual | string {
  const sheetTemperature = inputs.quantity("sheet temperature");
  const sheetHumidity = inputs.quantity("sheet humidity");
  const at = inputs.maybe("temperature") ?? sheetTemperature;
  const wet = inputs.maybe("humidity") ?? sheetHumidity;
  if (at.v <= 0 || sheetTemperature.v <= 0) return "A temperature is at or below absolute zero.";
  if (wet.v <= 0 || sheetHumidity.v <= 0)
    return "In air without moisture this kind of sealant does not cure. The humidity must be above zero.";
  if (!inputs.given("temperature") && !inputs.given("humidity")) return constant(1);
  return div(vapourPressure(sheetTemperature, sheetHumidity), vapourPressure(at, wet));
}

function outsideAir(inputs: Inputs): readonly string[] {
  const at = inputs.maybe("temperature")?.v ?? 296.15;
  const wet = inputs.maybe("humidity")?.v ?? 0.5;
  const said: string[] = [];
  if (at < 278.15 || at > 313.15)
    said.push(
      "The temperature is outside 5 to 40 degC, where makers commonly let sealant be applied (common practice, no source).",
    );
  if (wet < 0.2 || wet > 0.9)
    said.push(
      "The humidity is outside 20 to 90 %, where the estimate can be trusted (common practice, no source).",
    );
  return said;
}

const missingAir = (inputs: Inputs): readonly string[] =>
  inputs.given("temperature") && inputs.given("humidity")
    ? []
    : [
        "Temperature or humidity of the shop is not given and is taken from the data sheet. A cold or dry shop can take three times as long.",
      ];

export const skinTime: FormulaFunction = {
  name: "skin time",
  area: "sealing",
  says: "Time until a moisture-curing sealant forms a skin in this air; finish tooling before it.",
  parameters: [
    ofMaterial(quantity("sheet time", TIME, "min", "skin or tack-free time on the data sheet"), "skin time"),
    ...shopAir,
    ...sheetAir,
  ],
  gives: { dimension: TIME, scale: "plain", unit: "min" },
  equation: "time = sheet time · p_vapour(data sheet) / p_vapour(shop)",
  assumes: ASSUMES,
  validity: "Moisture-curing sealants, 5 to 40 degC, 20 to 90 % humidity.",
  source: SOURCE,
  caution: CAUTION,
  examples: [
    {
      formula: "skin time(10 min, 25 degC, 50 %, sheet temperature: 25 degC)",
      gives: "10 min",
      source: "a data sheet's own point: tack-free in 10 minutes at 25 degC and 50 % (reference row C003)",
    },
  ],
  compute(inputs) {
    const slower = slowing(inputs);
    if (typeof slower === "string") return refuse(slower);
    if (inputs.quantity("sheet time").v < 0)
      return refuse("The time on the data sheet cannot be below zero.");
    return value(mul(inputs.quantity("sheet time"), slower));
  },
  outside: outsideAir,
  remarks: missingAir,
};

export const cureTime: FormulaFunction = {
  name: "cure time",
  area: "sealing",
  says: "Time until a moisture-curing sealant is cured through to this depth.",
  parameters: [
    quantity("depth", LENGTH, "mm", "depth to the air; half the bead if air reaches both sides"),
    ...shopAir,
    ofMaterial(
      quantity("sheet depth", LENGTH, "mm", "depth that cures in the data sheet's time", {
        value: 2,
        unit: "mm",
        tolerance: 0.5,
        says: "2 mm ± 0.5 mm a day, as one data sheet has it",
      }),
      "cure depth",
    ),
    ofMaterial(
      quantity("sheet time", TIME, "h", "time on the data sheet", {
        value: 24,
        unit: "h",
        tolerance: 0,
        says: "24 h",
      }),
      "cure time",
    ),
    ...sheetAir,
  ],
  gives: { dimension: TIME, scale: "plain", unit: "h" },
  equation: "time = sheet time · (depth / sheet depth)² · p_vapour(data sheet) / p_vapour(shop)",
  assumes: [...ASSUMES, "air reaches the bead from one side"],
  validity: "Beads up to about 6 mm deep, 5 to 40 degC, 20 to 90 % humidity.",
  source: SOURCE,
  caution: CAUTION,
  examples: [
    {
      formula: "cure time(5 mm, sheet depth: 3 mm, sheet time: 24 h)",
      gives: "66.67 h",
      source: "square law by plain arithmetic, law from memory (reference row C008)",
    },
  ],
  compute(inputs) {
    const depth = inputs.quantity("depth");
    const sheetDepth = inputs.quantity("sheet depth");
    if (depth.v < 0) return refuse("The depth cannot be below zero.");
    if (sheetDepth.v <= 0 || inputs.quantity("sheet time").v <= 0)
      return refuse("The depth and the time on the data sheet must be above zero.");
    const slower = slowing(inputs);
    if (typeof slower === "string") return refuse(slower);
    const layers = div(depth, sheetDepth);
    return value(mul(mul(inputs.quantity("sheet time"), mul(layers, layers)), slower));
  },
  outside(inputs) {
    const said = [...outsideAir(inputs)];
    if (inputs.quantity("depth").v > THICKEST * (1 + 1e-12))
      said.push(
        "The bead is deeper than 6 mm, the thickest that a data sheet of this kind allows: seal in layers or use a two-part sealant.",
      );
    return said;
  },
  remarks: missingAir,
};

export const curingFunctions: readonly FormulaFunction[] = [skinTime, cureTime];
