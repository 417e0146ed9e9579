import type { Operand, Problem } from "../analysis/problem.ts";
import { mismatchInWords, operandInWords } from "../analysis/problem-in-words.ts";
import { readingsNamed } from "../sequence/grounds.ts";
import { NONE } from "../units/dimension.ts";
import { describeDimension, readUnit } from "../units/index.ts";
import { type Report, type Rule, type RulePage, rangeOn, type Subject } from "./rule.ts";

type Mismatch = Extract<Problem, { rule: "unit/mismatch" }>;

export const rule: Rule = {
  id: "unit/mismatch",
  severity: "error",
  why: "Quantities of different kinds cannot be added or compared; a result would mean nothing.",
  *check(subject): Iterable<Report> {
    yield* unlikeExpected(subject);
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

/** Readings that the procedure knows by their names, and that come without a unit or in one of another kind. */
function* unlikeExpected({ history, procedure }: Subject): Iterable<Report> {
  if (!history || !procedure) return;
  const told = new Set<unknown>();
  for (const { name, unit } of procedure.readings) {
    const wanted = unit === null ? undefined : readUnit(unit);
    if (!wanted?.ok || wanted.unit.dimension === NONE) continue;
    for (const { definition, result } of readingsNamed(name, history.grounds)) {
      const { body } = definition;
      if (body.kind !== "line" || body.syntax.kind !== "measured" || body.syntax.value.kind !== "number")
        continue;
      if (result?.kind !== "quantity" || result.dimension === wanted.unit.dimension || told.has(body))
        continue;
      told.add(body);
      const kind = describeDimension(wanted.unit.dimension) ?? "something else";
      const isBare = body.syntax.value.unit === undefined;
      yield {
        range: rangeOn(body.placed, body.syntax.value.span),
        message: isBare
          ? `\`${definition.name}\` has no unit, and is ${kind}.`
          : `\`${definition.name}\` is ${describeDimension(result.dimension) ?? "a quantity of another kind"} here, and should be ${kind}.`,
        advice: `Write it with its unit, as in \`${definition.name}: … ${unit}\`; until then no limit watches over it.`,
      };
    }
  }
}

function sides(problem: Mismatch): readonly Operand[] {
  return problem.case === "sum" || problem.case === "comparison" ? [problem.left, problem.right] : [];
}

export const page: RulePage = {
  title: "Units that do not fit",
  means:
    "A formula adds, compares or hands over quantities of different kinds, or asks for a result in a unit of another kind. Or a reading that the procedure knows comes without a unit, or in one of another kind.",
  mend: "Check the unit of each side. Often a sign is wrong, or the values of a function stand in the wrong order.",
  source: "Dimensions after the BIPM SI Brochure, 2.3.3 (clause from memory).",
  breaks: { note: "```readings\nflow: 0.42 L/min\ndrop: 0.8 psi\nsum = flow + drop\n```\n" },
  keeps: { note: "```readings\nflow: 0.42 L/min\nsecond flow: 0.10 L/min\nsum = flow + second flow\n```\n" },
};
