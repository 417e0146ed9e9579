import type { Parameter } from "../physics/function.ts";
import type { FormulaShop, Tried } from "../shop/read-formulas.ts";
import type { ShopFormula } from "../shop/shop.ts";
import { PLAIN_NUMBER, readUnit } from "../units/index.ts";
import { toSI, type Unit } from "../units/unit.ts";
import { asOperand } from "./arithmetic.ts";
import { ambientPressure, assumedSource } from "./assumed.ts";
import { type Context, describe } from "./context.ts";
import { showable } from "./display-unit.ts";
import { evaluate } from "./expression.ts";
import type { Problem } from "./problem.ts";
import {
  mismatchInWords,
  type ProblemInWords,
  SCALE_MISTAKES,
  scaleArgumentMessage,
} from "./problem-in-words.ts";
import { EXACT, type Quantity, type Result, type Source } from "./quantity.ts";

/** Where in a range, or how many units, the tries take each value: apart, so that no difference is zero. */
const TRIES = [0.5, 0.31, 0.83, 0.07, 0.96] as const;

/**
 * Holds a formula against the kinds of quantity that it takes and gives: evaluated once it shows every
 * mistake with dimensions and scales, since those do not depend on the values.
 */
export function tryFormula(formula: ShopFormula, shop: FormulaShop): Tried {
  for (const share of TRIES) {
    const problems: Problem[] = [];
    const context = contextOf(formula, shop, share, (problem) => {
      problems.push(problem);
      return undefined;
    });
    const result = evaluate(formula.formula, context);
    const mistake = problems.find((problem) => problem.rule !== "reading/out-of-validity");
    if (mistake) return { kind: "mistake", rule: mistake.rule, at: mistake.span, ...inWords(mistake) };
    if (result) return againstUnit(formula, result);
  }
  return { kind: "no value" };
}

function againstUnit(formula: ShopFormula, result: NonNullable<Result>): Tried {
  const { span } = formula.formula;
  if (result.kind !== "quantity") {
    return {
      kind: "mistake",
      rule: "unit/mismatch",
      at: span,
      message: `A formula of the shop gives a number, and this gives ${describe(result)}.`,
      advice: "Work out a value here, and compare it in the note.",
    };
  }
  const { unit } = formula;
  if (unit.dimension === result.dimension && showable(unit, result)) return { kind: "good" };
  const { dimension, scale, spelling } = unit;
  const problem: Problem = {
    rule: "unit/mismatch",
    case: "shown unit",
    span,
    got: asOperand({ span, quantity: result }),
    asked: { span, dimension, scale, unit: spelling || "1" },
  };
  return { kind: "mistake", rule: "unit/mismatch", at: "unit", ...mismatchInWords(problem) };
}

function inWords(problem: Problem): ProblemInWords {
  switch (problem.rule) {
    case "unit/mismatch":
      return mismatchInWords(problem);
    case "unit/scale-point":
      return scaleInWords(problem);
    case "unit/unknown": {
      const [near] = problem.reading.nearest;
      const offer = near ? `Perhaps \`${near}\` is meant.` : "Write a unit as the notes do.";
      return {
        message: `\`${problem.spelling}\` is no known unit.`,
        advice: `${problem.reading.remark ?? ""} ${offer}`.trim(),
      };
    }
    case "note/syntax":
      return problem;
    default:
      return { message: "This has no value.", advice: "Check the names and functions in it." };
  }
}

function scaleInWords(problem: Extract<Problem, { rule: "unit/scale-point" }>): ProblemInWords {
  switch (problem.case) {
    case "argument":
      return {
        message: scaleArgumentMessage(problem),
        advice: "Let the formula take the value on that scale: write its unit under `takes:` accordingly.",
      };
    case "bare absolute":
    case "relative tolerance":
      return { message: "This is not counted from the zero it should be.", advice: "Check the unit." };
    default: {
      const [message, advice] = SCALE_MISTAKES[problem.case];
      return { message, advice };
    }
  }
}

// ---- Values to try --------------------------------------------------------------------------------

function contextOf(
  formula: ShopFormula,
  shop: FormulaShop,
  share: number,
  report: (problem: Problem) => undefined,
): Context {
  const sources = new Map<string, Source>();
  const assumed = (says: string, standard: number) => assumedSource(sources, says, standard);
  const values = new Map<string, Quantity>();
  formula.parameters.forEach((parameter, index) => {
    const value = valueFor(parameter, formula, index, share, shop);
    if (value) values.set(parameter.name, value);
  });
  return {
    lookup: ({ key }) => values.get(key) ?? "missing",
    nearestNames: () => [],
    report,
    ambient: () => ambientPressure("missing", shop, assumed),
    material: (key) => shop.materials.get(key),
    materialNames: () => [...shop.materials.values()].map(({ id }) => id),
    units: shop.units,
    formulas: shop.formulas,
    assumed,
  };
}

function valueFor(
  { name, takes, optional }: Parameter,
  { within }: ShopFormula,
  index: number,
  share: number,
  { units }: FormulaShop,
): Quantity | undefined {
  const unit = takes.kind === "quantity" ? unitOf(takes.unit, units) : undefined;
  if (!unit) return undefined;
  const bounds = within.get(name);
  const width = Math.abs(unit.factor);
  const written = optional && "value" in optional ? optional : undefined;
  const usual = unitOf(written?.unit, units);
  // A temperature is tried about that of a room, anything else by so many of its units.
  const middle =
    written && usual
      ? toSI(written.value, usual)
      : unit.scale === "point"
        ? 293.15
        : unit.scale === "absolute"
          ? 1e5
          : width * (1 + index);
  const step = (share - 0.5) * 0.4 * (unit.scale === "point" ? 20 : Math.abs(middle) || width);
  const low = bounds?.low ?? (bounds?.high === undefined ? undefined : Math.min(middle, bounds.high - width));
  const high = bounds?.high ?? (low === undefined ? undefined : low + width);
  const si =
    low === undefined || high === undefined ? middle + step : low + (high - low) * shareAt(share, index);
  const { dimension, scale } = unit;
  return { kind: "quantity", si, dimension, scale, unit, by: EXACT };
}

/** Another part of its range for each value, so that two alike are not equal. */
const shareAt = (share: number, index: number): number => (share + 0.137 * index) % 1;

function unitOf(spelling: string | undefined, units: FormulaShop["units"]): Unit | undefined {
  if (spelling === undefined) return undefined;
  if (spelling === "") return PLAIN_NUMBER;
  const reading = readUnit(spelling, units);
  return reading.ok ? reading.unit : undefined;
}
