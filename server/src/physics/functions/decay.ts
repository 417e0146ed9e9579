import { LENGTH, THROUGHPUT, TIME, VOLUME } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { add, constant, div, log, mul, product, sqrt, sub } from "../dual.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import { gasNamed } from "../gas.ts";
import { criticalFlow, criticalRatio, nozzleFunction } from "../nozzle.ts";
import { integrate } from "../quadrature.ts";
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

/**
 * ∫ dp / (p · ψ) from `end` to `start`, both gauge: the emptying time without its volume, hole and speed.
 * The subsonic part is integrated over the square root of the gauge pressure, which takes away the steep
 * rise near zero; the choked part is a logarithm.
 */
function emptyingIntegral(start: Dual, end: Dual, around: Dual, gamma: number): Dual {
  const choking = mul(around, 1 / criticalRatio(gamma) - 1);
  const subsonic = (from: Dual, to: Dual): Dual =>
    integrate(
      (root) => {
        const gauge = mul(root, root);
        const absolute = add(around, gauge);
        return div(mul(root, 2), mul(absolute, nozzleFunction(div(gauge, absolute), gamma)));
      },
      sqrt(from),
      sqrt(to),
    );
  const choked = (from: Dual, to: Dual): Dual =>
    div(log(div(add(around, to), add(around, from))), criticalFlow(gamma));
  if (start.v <= choking.v) return subsonic(end, start);
  if (end.v >= choking.v) return choked(end, start);
  return add(subsonic(end, choking), choked(choking, start));
}

export const decayTime: FormulaFunction = {
  name: "decay time",
  area: "leak and flow",
  says: "How long a part of this volume takes to fall from one gauge pressure to another through a hole.",
  parameters: [
    quantity("volume", VOLUME, "L", "volume of the part under test, hoses included"),
    quantity("diameter", LENGTH, "mm", "diameter of the hole"),
    gaugePressure("start", "gauge pressure at the start", "inH2O"),
    gaugePressure("end", "gauge pressure at the end, above zero", "inH2O"),
    temperature("temperature", "temperature of the gas", ROOM_TEMPERATURE),
    gasChoice,
    discharge,
    ambient(),
  ],
  gives: { dimension: TIME, scale: "plain", unit: "s" },
  equation: "time = volume / (discharge · π/4 · diameter² · √(R · T)) · ∫ dp / (p · ψ), from end to start",
  assumes: [
    "one clean sharp-edged hole with a discharge coefficient of 0.6 ± 0.1 unless given",
    "a rigid volume whose gas keeps its temperature while it flows out",
    "ambient pressure stands still",
  ],
  validity: "Gauge pressures above zero, subsonic and choked.",
  source:
    "Mass balance of an ideal gas with isentropic nozzle flow, integrated numerically; agrees with the closed form for small pressures (reference rows L033 and L034)",
  caution:
    "It tells how long to watch at least. A part that holds pressure for so long can still have a smaller leak.",
  examples: [
    {
      formula: "decay time(50 L, 0.02 in, 14 inH2O, 8 inH2O, temperature: 20 degC, ambient: 101.325 kPa(a))",
      gives: "90.85 s",
      source: "the textbook mass balance stepped through time by Runge and Kutta's method",
    },
  ],
  compute(inputs) {
    const start = inputs.quantity("start");
    const end = inputs.quantity("end");
    const diameter = inputs.quantity("diameter");
    if (diameter.v <= 0) return refuse("The diameter of the hole must be above zero.");
    if (inputs.quantity("volume").v <= 0) return refuse("The volume must be above zero.");
    if (end.v <= 0)
      return refuse(
        "The end pressure must be above zero gauge: close to zero the flow dies out and the time cannot be told. For a part under vacuum this function does not apply.",
      );
    if (start.v <= end.v) return refuse("The start pressure must be above the end pressure.");
    const gas = gasNamed(inputs.choice("gas"));
    const speed = sqrt(mul(inputs.quantity("temperature"), gas.constant));
    const opening = product(inputs.quantity("discharge"), constant(Math.PI / 4), diameter, diameter, speed);
    const integral = emptyingIntegral(start, end, inputs.quantity("ambient"), gas.gamma);
    return value(mul(div(inputs.quantity("volume"), opening), integral));
  },
};

export const decayFunctions: readonly FormulaFunction[] = [decayLeakRate, decayTime];
