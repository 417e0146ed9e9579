import type { Operand, Problem } from "../analysis/problem.ts";
import { mismatchInWords, operandInWords } from "../analysis/problem-in-words.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

type Mismatch = Extract<Problem, { rule: "unit/mismatch" }>;

export const rule: Rule = {
  id: "unit/mismatch",
  severity: "error",
  why: "Quantities of different kinds cannot be added or compared; a result would mean nothing.",
  *check(subject): Iterable<Report> {
    for (const { problem, placed } of subject.problems("unit/mismatch")) {
      yield {
        range: rangeOn(placed, problem.span),
        ...mismatchInWords(problem),
        related: sides(problem).map((side) => ({
          range: rangeOn(placed, side.span),
          message: `This is ${operandInWords(side)}.`,
        })),
      };
    }
  },
};

function sides(problem: Mismatch): readonly Operand[] {
  return problem.case === "sum" || problem.case === "comparison" ? [problem.left, problem.right] : [];
}

export const page: RulePage = {
  title: "Units that do not fit",
  means:
    "A formula adds, compares or hands over quantities of different kinds, or asks for a result in a unit of another kind.",
  mend: "Check the unit of each side. Often a sign is wrong, or the values of a function stand in the wrong order.",
  source: "Dimensions after the BIPM SI Brochure, 2.3.3 (clause from memory).",
  breaks: { note: "```readings\nflow: 0.42 L/min\ndrop: 0.8 psi\nsum = flow + drop\n```\n" },
  keeps: { note: "```readings\nflow: 0.42 L/min\nsecond flow: 0.10 L/min\nsum = flow + second flow\n```\n" },
};
