import { THROUGHPUT, TIME, VOLUME } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { add, div, mul, sub } from "../dual.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import { absolutePressure, ambient, gaugePressure, NOTHING, quantity, temperature } from "./parameters.ts";

/** Ratio start temperature / end temperature; one without both. */
function temperatureRatio(inputs: Inputs): Dual | number | undefined {
  const start = inputs.maybe("start temperature");
  const end = inputs.maybe("end temperature");
  if (start && end) return div(start, end);
  return start || end ? undefined : 1;
}

export const decayLeakRate: FormulaFunction = {
  name: "decay leak rate",
  area: "leak and flow",
  says: "Leak rate (pressure times volume per time) from a pressure-decay test, corrected for temperature and barometer.",
  parameters: [
    quantity("volume", VOLUME, "L", "volume of the part under test, hoses included"),
    gaugePressure("start", "gauge pressure at the start", "inH2O"),
    gaugePressure("end", "gauge pressure at the end", "inH2O"),
    quantity("time", TIME, "s", "time between the two readings"),
    temperature("start temperature", "temperature of the air inside at the start", NOTHING),
    temperature("end temperature", "temperature of the air inside at the end", NOTHING),
    ambient("start ambient"),
    absolutePressure("end ambient", "ambient pressure at the end; as at the start if left out", NOTHING),
  ],
  gives: { dimension: THROUGHPUT, scale: "plain", unit: "Pa.m3/s" },
  equation:
    "leak rate = volume / time · ((start + start ambient) − (end + end ambient) · start temperature / end temperature)",
  assumes: [
    "the volume does not change: soft hoses and a bulging lens give and take air of their own",
    "the air inside has one temperature, and no liquid evaporates inside",
    "the barometer stands still unless both ambient pressures are given",
  ],
  validity: "Ideal gas in a rigid volume; a mean rate over the time of the test.",
  source:
    "Mass change of an ideal gas, the principle of EN 13184 (pressure change method) and of ASTM E2930; resolution and accuracy rules of ASTM E2930-13(2021), 5.1",
  caution:
    "Let the temperature settle before the first reading. A falling temperature looks like a leak, a rising one hides a leak.",
  examples: [
    {
      formula:
        "decay leak rate(5 L, 14 inH2O, 12.5 inH2O, 300 s, start temperature: 22 degC, end temperature: 21 degC, start ambient: 101.325 kPa(a))",
      gives: "0.00030969 Pa.m3/s",
      source: "ideal gas by plain arithmetic (reference row L015), the principle of EN 13184 and ASTM E2930",
    },
  ],
  compute(inputs) {
    const time = inputs.quantity("time");
    if (time.v <= 0) return refuse("The time of the test must be above zero.");
    if (inputs.quantity("volume").v <= 0) return refuse("The volume must be above zero.");
    const ratio = temperatureRatio(inputs);
    if (ratio === undefined)
      return refuse(
        "Only one temperature is given. A decay test needs the temperature at the start and at the end, or neither.",
      );
    const startAmbient = inputs.quantity("start ambient");
    const endAmbient = inputs.maybe("end ambient") ?? startAmbient;
    const start = add(inputs.quantity("start"), startAmbient);
    const end = add(inputs.quantity("end"), endAmbient);
    if (start.v <= 0 || end.v <= 0)
      return refuse("A pressure is below vacuum. Check the sign and the unit of the readings.");
    return value(div(mul(inputs.quantity("volume"), sub(start, mul(end, ratio))), time));
  },
  outside(inputs, result) {
    const said: string[] = [];
    if (result < 0)
      said.push(
        "The leak rate comes out below zero: the pressure rose. The part warmed up, the barometer fell or air still flowed in; repeat the test at a steady temperature.",
      );
    const startAmbient = inputs.quantity("start ambient").v;
    const start = inputs.quantity("start").v + startAmbient;
    const end = inputs.quantity("end").v + (inputs.maybe("end ambient")?.v ?? startAmbient);
    if (Math.abs(start - end) > 0.1 * start)
      said.push(
        "The absolute pressure changes by more than a tenth during the test (ASTM E2930-13(2021), 5.1 asks for less), so the mean rate is not the rate at the start.",
      );
    return said;
  },
  remarks(inputs) {
    if (inputs.given("start temperature") && inputs.given("end temperature")) return [];
    return [
      "No temperatures are given. 1 K of cooling costs a sealed housing at 14 inH2O about 1.4 inH2O, so this test can show a leak twenty times too big, or hide one; give `start temperature` and `end temperature`.",
    ];
  },
};

export const decayFunctions: readonly FormulaFunction[] = [decayLeakRate];
