import { LENGTH, NONE, VOLUME } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { div, product } from "../dual.ts";
import type { FormulaFunction } from "../function.ts";
import { refuse, value } from "../function.ts";
import { materialNamed, NOTHING, ofMaterial, quantity } from "./parameters.ts";

/** Share of width times height that the section of a bead fills. */
const SHAPES: ReadonlyMap<string, number> = new Map([
  ["round", Math.PI / 4],
  ["flat", 1],
  ["fillet", 1 / 2],
]);

export const beadVolume: FormulaFunction = {
  name: "bead volume",
  area: "sealing",
  says: "Volume of sealant in a bead: round when only its width is given, filling width times height otherwise.",
  parameters: [
    quantity("length", LENGTH, "m", "length of the bead"),
    quantity("width", LENGTH, "mm", "width of the bead, or diameter of a round one"),
    quantity("height", LENGTH, "mm", "height of the bead or depth of the joint", NOTHING),
    {
      name: "shape",
      says: "round, flat (fills the joint) or fillet (triangle in a corner)",
      takes: { kind: "choice", of: [...SHAPES.keys()] },
      optional: { choice: "round", says: "round without a height, flat with one" },
    },
  ],
  gives: { dimension: VOLUME, scale: "plain", unit: "mL" },
  equation: "volume = length · width · height · (π/4 round, 1 flat, 1/2 fillet)",
  assumes: ["an even bead; what is left in the nozzle and wiped off comes on top"],
  validity: "Any bead.",
  source: "Geometry",
  caution: "Sealants give off vapour while they cure: air the room and follow the maker's data sheet.",
  examples: [
    {
      formula: "bead volume(1.2 m, 6 mm)",
      gives: "33.93 mL",
      source: "geometry of a cylinder (reference row C011)",
    },
  ],
  compute(inputs) {
    const length = inputs.quantity("length");
    const width = inputs.quantity("width");
    const height: Dual = inputs.maybe("height") ?? width;
    if (length.v < 0 || width.v < 0 || height.v < 0)
      return refuse("A bead's length, width and height cannot be below zero.");
    const shape = inputs.given("height") && !inputs.given("shape") ? "flat" : inputs.choice("shape");
    return value(product(length, width, height, SHAPES.get(shape) ?? 1));
  },
};

export const tubes: FormulaFunction = {
  name: "tubes",
  area: "sealing",
  says: "Number of tubes or cartridges that a volume of sealant takes.",
  parameters: [
    quantity("volume", VOLUME, "mL", "volume of sealant"),
    ofMaterial(quantity("tube size", VOLUME, "mL", "content of one tube"), "tube volume"),
    materialNamed,
  ],
  gives: { dimension: NONE, scale: "plain" },
  equation: "tubes = volume / tube size",
  assumes: ["no waste: some of each tube stays in the nozzle"],
  validity: "Any volume.",
  source: "Division",
  examples: [
    {
      formula: "tubes(33.9292 mL, 300 mL)",
      gives: "0.1131",
      source: "1.2 m of the 10.6103 m that a cartridge gives (reference row C013)",
    },
  ],
  compute(inputs) {
    const size = inputs.quantity("tube size");
    if (size.v <= 0) return refuse("The tube size must be above zero.");
    return value(div(inputs.quantity("volume"), size));
  },
  remarks(inputs) {
    // A share of a tube too small to measure does not open another one.
    const whole = Math.ceil(inputs.quantity("volume").v / inputs.quantity("tube size").v - 1e-9);
    return Number.isFinite(whole) && whole > 0 ? [`Open ${whole} ${whole === 1 ? "tube" : "tubes"}.`] : [];
  },
};

export const sealingFunctions: readonly FormulaFunction[] = [beadVolume, tubes];
