import { NONE } from "../../units/dimension.ts";
import { add, div, mul, sub } from "../dual.ts";
import type { FormulaFunction, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { share } from "./parameters.ts";

const anyQuantity = (name: string, says: string, like?: string): Parameter => ({
  name,
  says,
  takes: { kind: "quantity", dimension: "any", scale: "any", ...(like ? { like } : {}) },
});

export const scaled: FormulaFunction = {
  name: "scaled",
  area: "instruments and readings",
  says: "What a linear transducer's signal stands for.",
  parameters: [
    anyQuantity("signal", "signal read, such as 2.35 V or 11.2 mA"),
    anyQuantity("low signal", "signal at the low end", "signal"),
    anyQuantity("high signal", "signal at the high end", "signal"),
    anyQuantity("low", "value at the low signal"),
    anyQuantity("high", "value at the high signal", "low"),
  ],
  gives: { dimension: { like: "low" }, scale: { like: "low" } },
  equation: "value = low + (high − low) · (signal − low signal) / (high signal − low signal)",
  assumes: ["a straight line between the two ends, as on the transducer's label"],
  validity: "Signals between the low and the high signal.",
  source: "Straight line through two points",
  examples: [
    {
      formula: "scaled(2.5 V, 0.5 V, 4.5 V, 0 psi, 30 psi)",
      gives: "15 psi",
      source: "half-way between the ends, by inspection",
    },
  ],
  compute(inputs) {
    const lowSignal = inputs.quantity("low signal");
    const reach = sub(inputs.quantity("high signal"), lowSignal);
    if (reach.v === 0) return refuse("The low and the high signal are the same, so no scale can be told.");
    const low = inputs.quantity("low");
    const part = div(sub(inputs.quantity("signal"), lowSignal), reach);
    return value(add(low, mul(sub(inputs.quantity("high"), low), part)));
  },
  outside(inputs) {
    const low = inputs.quantity("low signal").v;
    const part = (inputs.quantity("signal").v - low) / (inputs.quantity("high signal").v - low);
    if (part < -1e-9)
      return ["The signal is below the transducer's low end: look for a broken wire or a lost supply."];
    if (part > 1 + 1e-9)
      return [
        "The signal is above the transducer's high end: the value is beyond its range, or a wire is shorted.",
      ];
    return [];
  },
};

export const fullScaleError: FormulaFunction = {
  name: "full scale error",
  area: "instruments and readings",
  says: "Largest error of an instrument whose accuracy is stated as a share of its full scale.",
  parameters: [
    anyQuantity("range", "full scale of the instrument"),
    share("accuracy", "accuracy as a share of full scale, such as 1 %"),
  ],
  gives: { dimension: { like: "range" }, scale: { spread: "range" } },
  equation: "error = range · accuracy",
  assumes: ["the scale begins at zero; else give the length of the scale as `range`"],
  validity: "Anywhere on the scale: the error is as large at the low end as at the high end.",
  source: "Definition of accuracy as a share of full scale (reference rows M011 to M013)",
  caution: "On the lowest part of the scale this error may be larger than what is read.",
  examples: [
    {
      formula: "full scale error(30 psi, 2 %)",
      gives: "0.6 psi",
      source: "plain arithmetic (reference row M012: 120 % of a reading of 0.5 psi)",
    },
  ],
  compute(inputs) {
    if (inputs.quantity("accuracy").v < 0) return refuse("The accuracy cannot be below zero.");
    return value(mul(inputs.quantity("range"), inputs.quantity("accuracy")));
  },
};

export const difference: FormulaFunction = {
  name: "difference",
  area: "instruments and readings",
  says: "One reading minus the other, for two instruments on the same bench.",
  parameters: [
    anyQuantity("first", "reading of the first instrument"),
    anyQuantity("second", "reading of the second instrument", "first"),
  ],
  gives: { dimension: { like: "first" }, scale: { spread: "first" } },
  equation: "difference = first − second",
  assumes: ["both instruments measured the same thing at the same time"],
  validity: "Any two readings of one kind.",
  source: "JCGM 100:2008 (GUM), 5.1 (clause from memory), for its uncertainty",
  examples: [{ formula: "difference(14.2 inH2O, 13.9 inH2O)", gives: "0.3 inH2O", source: "14.2 − 13.9" }],
  compute: (inputs) => value(sub(inputs.quantity("first"), inputs.quantity("second"))),
};

const uncertaintyOf = (of: string): Parameter => ({
  name: `${of} uncertainty`,
  says: `expanded uncertainty (k = 2) of the ${of} reading; its own if left out`,
  takes: { kind: "quantity", dimension: "any", like: of, scale: "any" },
  optional: { from: "uncertainty", of },
});

export const enNumber: FormulaFunction = {
  name: "en number",
  area: "instruments and readings",
  says: "Whether two readings agree within their uncertainties: yes when it is at most 1; its sign is left out, so that one limit serves.",
  parameters: [
    anyQuantity("first", "reading of the first instrument"),
    anyQuantity("second", "reading of the second instrument", "first"),
    uncertaintyOf("first"),
    uncertaintyOf("second"),
  ],
  gives: { dimension: NONE, scale: "plain", carries: "none" },
  equation: "En = |first − second| / √(U(first)² + U(second)²)",
  assumes: [
    "both uncertainties are expanded ones (k = 2), and the two instruments do not share an error",
    "both instruments measured the same thing at the same time",
  ],
  validity: "Readings that carry an uncertainty.",
  source: "En score of ISO 13528 and ISO/IEC 17043 (from memory): agreement when |En| ≤ 1",
  examples: [
    {
      formula: "en number(14.2 inH2O, 13.9 inH2O, 0.3 inH2O, 0.4 inH2O)",
      gives: "0.6",
      source: "plain arithmetic: 0.3 over the root of 0.3² + 0.4²",
    },
  ],
  compute(inputs) {
    const first = inputs.maybe("first uncertainty");
    const second = inputs.maybe("second uncertainty");
    if (!first || !second)
      return refuse(
        "The En number needs the uncertainty of both readings. Name the instruments with `via`, write a `±` behind the readings, or give `first uncertainty` and `second uncertainty`.",
      );
    const together = Math.hypot(first.v, second.v);
    if (!(together > 0)) return refuse("Both uncertainties are zero, so the En number has no meaning.");
    // The score weighs the difference against its uncertainty, so it carries none of its own.
    const score = (inputs.quantity("first").v - inputs.quantity("second").v) / together;
    return value({ v: Math.abs(score), d: [] });
  },
  remarks(inputs) {
    const first = inputs.maybe("first uncertainty");
    const second = inputs.maybe("second uncertainty");
    if (!first || !second) return [];
    const apart = Math.abs(inputs.quantity("first").v - inputs.quantity("second").v);
    return apart <= Math.hypot(first.v, second.v)
      ? ["The two readings agree within their uncertainties."]
      : [
          "The two readings do not agree within their uncertainties: one instrument is off, or they did not measure the same thing.",
        ];
  },
};

export const instrumentFunctions: readonly FormulaFunction[] = [scaled, fullScaleError, difference, enNumber];
