import { AREA, FORCE, PRESSURE } from "../../units/dimension.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import { add, div, mul, sub } from "../dual.ts";
import type { FormulaFunction } from "../function.ts";
import { refuse, value } from "../function.ts";
import { absolutePressure, ambient, gaugePressure, NOTHING, quantity, temperature } from "./parameters.ts";

export const sealedPressure: FormulaFunction = {
  name: "sealed pressure",
  area: "leak and flow",
  says: "Gauge pressure of a sealed volume after it is warmed or cooled.",
  parameters: [
    gaugePressure("pressure", "gauge pressure before; 0 for a housing closed at ambient pressure"),
    temperature("temperature", "temperature of the air inside before"),
    temperature("new temperature", "temperature of the air inside afterwards"),
    ambient(),
    absolutePressure(
      "new ambient",
      "ambient pressure afterwards; as before if left out (a change of weather or altitude)",
      NOTHING,
    ),
  ],
  gives: { dimension: PRESSURE, scale: "gauge", unit: "kPa" },
  equation: "new pressure = (pressure + ambient) · new temperature / temperature − new ambient",
  assumes: [
    "a rigid, tight volume: a soft part bulges and shows less",
    "dry air: drops of water inside that evaporate add their vapour pressure",
  ],
  validity: "Ideal gas; no liquid that evaporates inside.",
  source: "Ideal gas at constant volume (Gay-Lussac); reference rows L016 to L018",
  caution:
    "Warming a capped housing raises its pressure by about 0.35 kPa for each kelvin: open the vents before drying with heat.",
  examples: [
    {
      formula: "sealed pressure(14 inH2O, 22 degC, 21 degC, ambient: 101.325 kPa(a))",
      gives: "3.13213 kPa",
      source: "ideal gas at constant volume: 14 inH2O (3487.24 Pa) less 355.115 Pa (reference row L016)",
    },
  ],
  compute(inputs) {
    const before = inputs.quantity("temperature");
    const after = inputs.quantity("new temperature");
    if (before.v <= 0 || after.v <= 0) return refuse("A temperature is at or below absolute zero.");
    const ambientBefore = inputs.quantity("ambient");
    const absolute = add(inputs.quantity("pressure"), ambientBefore);
    if (absolute.v <= 0) return refuse("The pressure is below vacuum. Check its sign and unit.");
    const afterwards = inputs.maybe("new ambient") ?? ambientBefore;
    return value(sub(div(mul(absolute, after), before), afterwards));
  },
};

export const forceOn: FormulaFunction = {
  name: "force on",
  area: "leak and flow",
  says: "Force that a gauge pressure puts on an area such as a lens or a cover.",
  parameters: [
    gaugePressure("pressure", "gauge pressure on one side"),
    quantity("area", AREA, "cm2", "area that the pressure acts on, seen square to it"),
  ],
  gives: { dimension: FORCE, scale: "plain", unit: "N" },
  equation: "force = pressure · area",
  assumes: ["the same pressure everywhere on the area, and ambient pressure on the other side"],
  validity: "Any pressure and area.",
  source: "Definition of pressure",
  caution:
    "A lens or cover that lets go under pressure flies off. Keep to the test pressure that the maker allows, raise it slowly and stand aside.",
  examples: [
    {
      formula: "force on(14 inH2O, 600 cm2)",
      gives: "209.235 N",
      source: "force is pressure times area, by plain arithmetic (reference row S017)",
    },
  ],
  compute(inputs) {
    if (inputs.quantity("area").v < 0) return refuse("An area cannot be below zero.");
    return value(mul(inputs.quantity("pressure"), inputs.quantity("area")));
  },
  remarks(inputs) {
    const newtons = Math.abs(inputs.quantity("pressure").v * inputs.quantity("area").v);
    return [`That is the weight of ${(newtons / STANDARD_GRAVITY).toPrecision(2)} kg.`];
  },
};

export const sealedVolumeFunctions: readonly FormulaFunction[] = [sealedPressure, forceOn];
