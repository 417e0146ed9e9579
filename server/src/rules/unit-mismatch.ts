import type { Operand, Problem } from "../analysis/problem.ts";
import { TIME } from "../units/dimension.ts";
import { describeDimension } from "../units/index.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

type Mismatch = Extract<Problem, { rule: "unit/mismatch" }>;
type ShownUnit = Pick<Extract<Mismatch, { case: "shown unit" | "tolerance" }>, "got" | "asked">;

export const rule: Rule = {
  id: "unit/mismatch",
  severity: "error",
  why: "Quantities of different kinds cannot be added or compared; a result would mean nothing.",
  *check(subject): Iterable<Report> {
    for (const { problem, placed } of subject.problems("unit/mismatch")) {
      yield {
        range: rangeOn(placed, problem.span),
        ...words(problem),
        related: sides(problem).map((side) => ({
          range: rangeOn(placed, side.span),
          message: `This is ${kind(side)}.`,
        })),
      };
    }
  },
};

const kind = (operand: Operand): string => {
  const name = describeDimension(operand.dimension);
  if (name === undefined) return `a quantity of another kind (${operand.unit || "without a unit"})`;
  return operand.unit && operand.unit !== name ? `${name} (${operand.unit})` : name;
};

function sides(problem: Mismatch): readonly Operand[] {
  return problem.case === "sum" || problem.case === "comparison" ? [problem.left, problem.right] : [];
}

function words(problem: Mismatch): Pick<Report, "message" | "advice"> {
  switch (problem.case) {
    case "sum":
      return {
        message: `${capital(kind(problem.left))} and ${kind(problem.right)} cannot be ${problem.operator === "+" ? "added" : "subtracted"}.`,
        advice: "Check the unit of each side, and whether another sign was meant.",
      };
    case "comparison":
      return {
        message: `${capital(kind(problem.left))} cannot be compared with ${kind(problem.right)}.`,
        advice: "Both sides of a comparison take units of one kind. Check the unit of each.",
      };
    case "argument":
      return {
        message: `\`${problem.function}\` needs ${kind(problem.needs)} for its ${problem.parameter} and gets ${kind(problem.got)}.`,
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
        message: `The reading is ${kind(problem.asked)}, and its \`±\` is ${kind(problem.got)}.`,
        advice: problem.asked.unit
          ? "Write the `±` in a unit of the reading's own kind, or in `%`."
          : `Write the unit behind the reading too, as in \`5 ${problem.got.unit} ± 1 ${problem.got.unit}\`.`,
      };
    case "no unit":
      return {
        message: `${capital(kind(problem.needs))} is needed here, and this number has no unit.`,
        advice: "Write the unit behind the number.",
      };
    case "power":
      return {
        message: `${capital(kind(problem.got))} cannot be an exponent.`,
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

function shownUnitMessage(problem: ShownUnit): string {
  if (problem.got.dimension === problem.asked.dimension) {
    return `${capital(kind(problem.got))} cannot be shown in \`${problem.asked.unit}\`${scaleHint(problem)}.`;
  }
  const asked = describeDimension(problem.asked.dimension);
  return `The result is ${kind(problem.got)}, and \`${problem.asked.unit}\` stands for ${asked ?? "something else"}.`;
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

export const page: RulePage = {
  title: "Units that do not fit",
  means:
    "A formula adds, compares or hands over quantities of different kinds, or asks for a result in a unit of another kind.",
  mend: "Check the unit of each side. Often a sign is wrong, or the values of a function stand in the wrong order.",
  source: "Dimensions after the BIPM SI Brochure, 2.3.3 (clause from memory).",
  breaks: { note: "```readings\nflow: 0.42 L/min\ndrop: 0.8 psi\nsum = flow + drop\n```\n" },
  keeps: { note: "```readings\nflow: 0.42 L/min\nsecond flow: 0.10 L/min\nsum = flow + second flow\n```\n" },
};
