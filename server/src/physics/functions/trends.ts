import { constant } from "../dual.ts";
import type { FormulaFunction, Inputs, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { fitDecay, fitLine } from "../least-squares.ts";
import { coverageWidening } from "../student-t.ts";
import { NOTHING } from "./parameters.ts";

const column = (name: string, says: string): Parameter => ({
  name,
  says,
  takes: { kind: "samples", dimension: "any" },
});

const columns: readonly Parameter[] = [
  column("values", "column with the values, such as `decay p`"),
  column("against", "column that they are taken against, such as `decay t`"),
];

interface Columns {
  readonly y: readonly number[];
  readonly x: readonly number[];
  /** Standard uncertainty of one value from its resolution. */
  readonly resolution: number;
}

/** The two columns, or the sentence that says what is wrong with them. */
function paired(inputs: Inputs, least: number): Columns | string {
  const values = inputs.samples("values");
  const x = inputs.samples("against").values;
  if (values.values.length !== x.length)
    return `The two columns differ in length (${values.values.length} values against ${x.length}); take both from one series.`;
  if (x.length < least) return `This needs at least ${least} rows, and there are ${x.length}.`;
  return { y: values.values, x, resolution: values.resolution };
}

/** Standard error of a fit, widened for few points, together with what the resolution of a value adds. */
const fitUncertainty = (error: number, freedom: number, fromResolution: number): number =>
  Math.hypot(freedom > 0 ? error * coverageWidening(freedom) : 0, fromResolution);

export const slope: FormulaFunction = {
  name: "slope",
  area: "instruments and readings",
  says: "How fast a column of a series rises (or falls, below zero): the slope of the best straight line.",
  parameters: columns,
  gives: { dimension: { like: "values", per: "against" }, scale: "plain", carries: "none" },
  equation: "slope = Σ (x − mean x) · (y − mean y) / Σ (x − mean x)²",
  assumes: ["a straight line: each value is off it by chance alone", "the times are exact beside the values"],
  validity: "At least two rows with different times; the standard error needs three.",
  source: "Least squares line with standard error, JCGM 100:2008 (GUM), H.3",
  examples: [
    {
      formula: "p: 12.0, 11.4, 10.9 inH2O\nt: 0, 60, 120 s\nslope(p, t)",
      gives: "-0.0091667 inH2O/s",
      source: "by hand: with three even steps the slope is the last value less the first, over 120 s",
    },
  ],
  compute(inputs) {
    const rows = paired(inputs, 2);
    if (typeof rows === "string") return refuse(rows);
    const line = fitLine(rows.x, rows.y);
    if (!line) return refuse("All rows have the same time, so there is no slope.");
    const freedom = rows.x.length - 2;
    return value(constant(line.slope), {
      standardUncertainty: fitUncertainty(
        line.slopeError,
        freedom,
        rows.resolution / Math.sqrt(line.spreadX),
      ),
      says: `standard error of the line through ${rows.x.length} points`,
    });
  },
  outside(inputs) {
    return inputs.samples("values").values.length === 2
      ? ["Two points always lie on a line, so nothing tells how well it fits. Take more readings."]
      : [];
  },
};

export const decayFit: FormulaFunction = {
  name: "fit decay",
  area: "instruments and readings",
  says: "Time constant of a column that falls off exponentially: the time in which it falls to 37 %.",
  parameters: [
    ...columns,
    {
      name: "floor",
      says: "value that it falls towards; zero if left out, which suits a gauge pressure",
      takes: { kind: "quantity", dimension: "any", like: "values", scale: "any" },
      optional: NOTHING,
    },
  ],
  gives: { dimension: { like: "against" }, scale: { spread: "against" }, carries: "none" },
  equation: "value = floor + start · exp(−time / time constant), by least squares",
  assumes: [
    "the rate of fall is in step with what is left, as with a slow leak that flows smoothly",
    "the floor is known; a temperature read in degC needs one",
  ],
  validity: "At least three rows that fall; best when they fall to less than half.",
  source: "Nonlinear least squares (Gauss and Newton) with the standard error from the residuals",
  caution:
    "A hole with a sharp edge empties a housing faster towards the end than an exponential does: look at the rows before trusting one number.",
  examples: [
    {
      formula: "p: 8, 4, 2 kPa\nt: 0, 60, 120 s\nfit decay(p, t)",
      gives: "86.56 s",
      source: "by hand: it halves every 60 s, and 60 s over ln 2 is 86.56 s",
    },
  ],
  compute(inputs) {
    const rows = paired(inputs, 3);
    if (typeof rows === "string") return refuse(rows);
    const floor = inputs.maybe("floor")?.v ?? 0;
    const fit = fitDecay(
      rows.x,
      rows.y.map((y) => y - floor),
    );
    if (!fit)
      return refuse(
        "These rows do not fall off towards the floor, so there is no time constant. Check the columns and `floor`.",
      );
    return value(constant(fit.timeConstant), {
      standardUncertainty: fitUncertainty(
        fit.timeConstantError,
        rows.x.length - 2,
        fit.sensitivity * rows.resolution,
      ),
      says: `standard error of the fit to ${rows.x.length} points`,
    });
  },
  outside(inputs, result) {
    const x = inputs.samples("against").values;
    const length = (x.at(-1) ?? 0) - (x[0] ?? 0);
    return length < 0.7 * result
      ? ["The rows cover less than a fall to half, so the time constant rests mostly on the shape assumed."]
      : [];
  },
};

export const trendFunctions: readonly FormulaFunction[] = [slope, decayFit];
