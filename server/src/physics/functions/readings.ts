import { NONE } from "../../units/dimension.ts";
import { constant } from "../dual.ts";
import type { FormulaFunction, Gives, Inputs, Outcome, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { average, squaresAbout } from "../least-squares.ts";

const samples = (name: string, says: string): Parameter => ({
  name,
  says,
  takes: { kind: "samples", dimension: "any" },
});

const readings = samples("readings", "repeated readings, or a column of a series");

const NO_READINGS = "There are no readings to work on.";

/** A function of one list of readings that needs at least so many of them. */
function ofReadings(
  least: number,
  compute: (values: readonly number[], inputs: Inputs) => Outcome,
): (inputs: Inputs) => Outcome {
  return (inputs) => {
    const { values } = inputs.samples("readings");
    if (values.length === 0) return refuse(NO_READINGS);
    if (values.length < least)
      return refuse(`This needs at least ${least} readings, and there is only ${values.length}.`);
    return compute(values, inputs);
  };
}

const alike = (carries: NonNullable<Gives["carries"]>): Gives => ({
  dimension: { like: "readings" },
  scale: { like: "readings" },
  carries,
});

/** Experimental standard deviation, n − 1 degrees of freedom (JCGM 100:2008, 4.2.2, clause from memory). */
export const standardDeviation = (values: readonly number[]): number =>
  Math.sqrt(squaresAbout(values, average(values)) / (values.length - 1));

const shared = {
  area: "instruments and readings",
  parameters: [readings],
  assumes: ["the same thing was measured each time, by the same means"],
} as const;

export const mean: FormulaFunction = {
  ...shared,
  name: "mean",
  says: "Mean of repeated readings.",
  gives: alike("mean"),
  equation: "mean = sum of the readings / their number",
  validity: "At least one reading; its uncertainty takes in the scatter of the readings.",
  source: "JCGM 100:2008 (GUM), 4.2 (clause from memory)",
  caution: "Repeating a reading does not take away an error that the instrument makes each time.",
  examples: [
    {
      formula: "readings: 13.98, 14.02, 14.01, 13.97, 14.04 inH2O\nmean(readings)",
      gives: "14.004 inH2O",
      source: "JCGM 100:2008, 4.2 (clause from memory), by plain arithmetic (reference row M021)",
    },
  ],
  compute: ofReadings(1, (_values, inputs) => value(inputs.samples("readings").mean)),
};

export const spread: FormulaFunction = {
  ...shared,
  name: "spread",
  says: "Standard deviation of repeated readings.",
  gives: { dimension: { like: "readings" }, scale: { spread: "readings" }, carries: "none" },
  equation: "spread = √(sum of (reading − mean)² / (number − 1))",
  validity: "At least two readings; from few of them it is known only roughly.",
  source: "JCGM 100:2008 (GUM), 4.2.2; its own uncertainty after E.4.3 (clauses from memory)",
  examples: [
    {
      formula: "readings: 13.98, 14.02, 14.01, 13.97, 14.04 inH2O\nspread(readings)",
      gives: "0.0288 inH2O",
      source: "JCGM 100:2008, 4.2.2 (clause from memory), by plain arithmetic (reference row M022)",
    },
  ],
  compute: ofReadings(2, (values) => {
    const s = standardDeviation(values);
    return value(constant(s), {
      standardUncertainty: s / Math.sqrt(2 * (values.length - 1)),
      says: `a spread from ${values.length} readings is known to about ${Math.round(100 / Math.sqrt(2 * (values.length - 1)))} % of itself`,
    });
  }),
};

export const least: FormulaFunction = {
  ...shared,
  name: "least",
  says: "Smallest of the readings.",
  gives: alike("shared"),
  equation: "least = smallest reading",
  validity: "At least one reading.",
  source: "Definition",
  examples: [
    { formula: "supply: 9.1, 9.3, 9.2 A\nleast(supply)", gives: "9.1 A", source: "seen at a glance" },
  ],
  compute: ofReadings(1, (values, inputs) => extreme(inputs, Math.min, values)),
};

export const greatest: FormulaFunction = {
  ...shared,
  name: "greatest",
  says: "Largest of the readings.",
  gives: alike("shared"),
  equation: "greatest = largest reading",
  validity: "At least one reading.",
  source: "Definition",
  examples: [
    { formula: "supply: 9.1, 9.3, 9.2 A\ngreatest(supply)", gives: "9.3 A", source: "seen at a glance" },
  ],
  compute: ofReadings(1, (values, inputs) => extreme(inputs, Math.max, values)),
};

/** One reading picked from the list: it moves with the error that all share and has its own resolution. */
function extreme(inputs: Inputs, pick: (a: number, b: number) => number, values: readonly number[]): Outcome {
  const list = inputs.samples("readings");
  const picked = values.reduce((a, b) => pick(a, b));
  return value(
    { v: picked, d: list.mean.d },
    { standardUncertainty: list.resolution, says: "the resolution of one reading" },
  );
}

export const count: FormulaFunction = {
  ...shared,
  name: "count",
  says: "Number of readings.",
  gives: { dimension: NONE, scale: "plain", carries: "none" },
  equation: "count = number of readings",
  validity: "Any list.",
  source: "Definition",
  examples: [{ formula: "supply: 9.1, 9.3, 9.2 A\ncount(supply)", gives: "3", source: "counted" }],
  compute: (inputs) => value(constant(inputs.samples("readings").values.length)),
};

export const span: FormulaFunction = {
  ...shared,
  name: "span",
  says: "Largest reading minus smallest.",
  gives: { dimension: { like: "readings" }, scale: { spread: "readings" }, carries: "none" },
  equation: "span = greatest − least",
  validity: "At least two readings; it grows with their number.",
  source: "Definition",
  examples: [{ formula: "supply: 9.1, 9.3, 9.2 A\nspan(supply)", gives: "0.2 A", source: "9.3 − 9.1" }],
  compute: ofReadings(2, (values, inputs) =>
    value(constant(values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b))), {
      standardUncertainty: inputs.samples("readings").resolution * Math.SQRT2,
      says: "the resolution of the two readings",
    }),
  ),
};

export const readingFunctions: readonly FormulaFunction[] = [mean, spread, least, greatest, count, span];
