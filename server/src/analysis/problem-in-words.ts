import { NONE, over, TIME } from "../units/dimension.ts";
import { describeDimension } from "../units/index.ts";
import type { Scale } from "../units/unit.ts";
import type { Operand, Problem, ScalePointCase } from "./problem.ts";

/** Mistakes with units as a technician is told of them, whether they stand in a note or in the shop file. */

export interface ProblemInWords {
  /** What is wrong, in one sentence. */
  readonly message: string;
  /** What to do. */
  readonly advice: string;
}

type Mismatch = Extract<Problem, { rule: "unit/mismatch" }>;
type ShownUnit = Pick<Extract<Mismatch, { case: "shown unit" | "tolerance" }>, "got" | "asked">;

export const operandInWords = (operand: Operand): string => {
  const name = describeDimension(operand.dimension);
  if (name === undefined) return `a quantity of another kind (${operand.unit || "without a unit"})`;
  return operand.unit && operand.unit !== name ? `${name} (${operand.unit})` : name;
};

export function mismatchInWords(problem: Mismatch): ProblemInWords {
  switch (problem.case) {
    case "sum":
      return {
        message: `${capital(operandInWords(problem.left))} and ${operandInWords(problem.right)} cannot be ${problem.operator === "+" ? "added" : "subtracted"}.`,
        advice: "Check the unit of each side, and whether another sign was meant.",
      };
    case "comparison":
      return {
        message: `${capital(operandInWords(problem.left))} cannot be compared with ${operandInWords(problem.right)}.`,
        advice: comparisonAdvice(problem.left, problem.right),
      };
    case "argument":
      return {
        message: `\`${problem.function}\` needs ${operandInWords(problem.needs)} for its ${problem.parameter} and gets ${operandInWords(problem.got)}.`,
        advice:
          problem.parameter === "capacity" && problem.got.dimension === TIME
            ? "A reserve capacity in minutes and a capacity in ampere-hours have no single factor: take the ampere-hours from the battery's label or data sheet."
            : "Check the order of the values, or name them, as in `drop: test pressure`.",
      };
    case "shown unit":
      return {
        message: shownUnitMessage(problem),
        advice: "Ask for a unit of the same kind, or check the formula.",
      };
    case "tolerance":
      return {
        message: `The reading is ${operandInWords(problem.asked)}, and its \`±\` is ${operandInWords(problem.got)}.`,
        advice: problem.asked.unit
          ? "Write the `±` in a unit of the reading's own kind, or in `%`."
          : `Write the unit behind the reading too, as in \`5 ${problem.got.unit} ± 1 ${problem.got.unit}\`.`,
      };
    case "no unit":
      return {
        message: `${capital(operandInWords(problem.needs))} is needed here, and this number has no unit.`,
        advice: "Write the unit behind the number.",
      };
    case "power":
      return {
        message: `${capital(operandInWords(problem.got))} cannot be an exponent.`,
        advice: "An exponent is a plain number, and an exact one when what is below it has a unit.",
      };
    case "not a number":
      return {
        message: `${capital(problem.got)} cannot be used with \`${problem.operator}\`.`,
        advice:
          problem.operator === "is"
            ? 'Compare words with words, as in `medium is "smoke"`.'
            : "Use a name that stands for a number here.",
      };
  }
}

function comparisonAdvice(left: Operand, right: Operand): string {
  const bare = [left, right].some((side) => side.dimension === NONE && side.unit === "");
  const unit = left.unit || right.unit;
  return bare && unit
    ? `Write the unit behind the number too, as in \`12 ${unit}\`.`
    : "Both sides of a comparison take units of one kind. Check the unit of each.";
}

function shownUnitMessage(problem: ShownUnit): string {
  if (problem.got.dimension === problem.asked.dimension) {
    return `${capital(operandInWords(problem.got))} cannot be shown in \`${problem.asked.unit}\`${scaleHint(problem)}.`;
  }
  const asked = describeDimension(problem.asked.dimension);
  const built = asked && describeDimension(problem.got.dimension) === undefined && builtFrom(asked, problem);
  if (built) return `The formula gives ${built}, and \`${problem.asked.unit}\` stands for ${asked}.`;
  return `The result is ${operandInWords(problem.got)}, and \`${problem.asked.unit}\` stands for ${asked ?? "something else"}.`;
}

/** What has no name of its own, by what it lacks or has too much of: "a force divided by a length". */
function builtFrom(asked: string, { got, asked: { dimension } }: ShownUnit): string | undefined {
  const lacks = describeDimension(over(dimension, got.dimension));
  if (lacks) return `${asked} divided by ${lacks}`;
  const surplus = describeDimension(over(got.dimension, dimension));
  return surplus && `${asked} times ${surplus}`;
}

function scaleHint(problem: ShownUnit): string {
  if (problem.got.dimension !== problem.asked.dimension) return "";
  if (problem.got.scale === "absolute")
    return `, since it is an absolute pressure; write \`${problem.asked.unit}(a)\``;
  if (problem.got.scale === "difference") return ", since it is a difference; write `K`";
  if (problem.asked.scale === "absolute") return ", since it is a gauge pressure";
  return ", since one is a point on a scale and the other a difference";
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export const SCALE_MISTAKES: Record<ScalePointCase, readonly [message: string, advice: string]> = {
  "point plus point": [
    "Two temperatures on a scale cannot be added.",
    "To add a difference write it in `K`; for a mean use `mean(…)` on a list.",
  ],
  "difference minus point": [
    "A temperature on a scale cannot be taken away from a difference.",
    "Turn the two round, or write both as temperatures.",
  ],
  "point times": [
    "A temperature in degC or degF cannot be multiplied or divided.",
    "Take a difference first, as in `(t - 0 degC)`, or write the temperature in `K`.",
  ],
  "point power": [
    "A temperature in degC or degF cannot be raised to a power.",
    "Write the temperature in `K`.",
  ],
  "point negated": ["A temperature on a scale has no opposite.", "Take a difference, as in `0 degC - t`."],
  "point against difference": [
    "A temperature on a scale cannot be compared with a difference.",
    "Compare a temperature with a temperature; write differences in `K`.",
  ],
  "absolute plus absolute": [
    "Two absolute pressures cannot be added.",
    "Add a gauge pressure to an absolute one, or subtract the two for their difference.",
  ],
  "gauge minus absolute": [
    "An absolute pressure cannot be taken away from a gauge pressure.",
    "Turn the two round, or make both absolute or both gauge.",
  ],
  "gauge against absolute": [
    "A gauge pressure cannot be compared with an absolute one.",
    "Make both gauge or both absolute: absolute is gauge plus ambient pressure.",
  ],
};

const SCALE_WORDS: Record<Scale, string> = {
  plain: "a plain quantity",
  point: "a temperature on a scale",
  kelvin: "a temperature in kelvin",
  difference: "a difference",
  gauge: "a gauge pressure",
  absolute: "an absolute pressure",
};
export const scaleInWords = (scale: Scale): string => SCALE_WORDS[scale];

export const scaleArgumentMessage = (
  problem: Extract<Problem, { rule: "unit/scale-point"; case: "argument" }>,
): string =>
  `\`${problem.function}\` needs ${scaleInWords(problem.needs)} for its ${problem.parameter} and gets ${scaleInWords(problem.got.scale)} (${problem.got.unit}).`;
