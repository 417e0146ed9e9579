import type { Bounds, ShopFormula } from "../shop/shop.ts";
import { fromSI } from "../units/unit.ts";
import { withoutSampling } from "./arithmetic.ts";
import { type Bound, bindAll, type Call, isBeyondNature } from "./call-arguments.ts";
import { matchArguments } from "./call-matching.ts";
import type { Context, Evaluate } from "./context.ts";
import { showable } from "./display-unit.ts";
import type { Problem } from "./problem.ts";
import type { Quantity, Result } from "./quantity.ts";
import { inWords, shownUnit } from "./showing.ts";

/**
 * Works out a formula of the shop's own. It is evaluated as if it stood in the note, with each of its names
 * standing for what was given: so derivatives are exact, a reading that goes in twice correlates with itself,
 * and a simulation draws through it.
 */
export function callShopFormula(
  formula: ShopFormula,
  call: Call,
  context: Context,
  evaluate: Evaluate,
): Result {
  const matched = matchArguments(call, formula, context);
  const bound = matched && bindAll(call, formula, matched, context, evaluate);
  if (!bound || (context.trial && isBeyondNature(bound))) return undefined;
  const inside: Problem[] = [];
  const result = evaluate(formula.formula, {
    ...context,
    lookup: ({ key }) => {
      const quantity = bound.get(key)?.quantity;
      return quantity ? withoutSampling(quantity) : "missing";
    },
    nearestNames: () => [],
    report: (problem) => {
      inside.push(problem);
      return undefined;
    },
  });
  const shown = result?.kind === "quantity" ? inItsUnit(result, formula) : undefined;
  if (!shown) return context.report(noValue(formula, call, inside));
  if (context.trial) return shown;
  const outside = [...beyondBounds(formula, bound, shown), ...sentences(inside)];
  if (outside.length > 0) {
    context.report({
      rule: "reading/out-of-validity",
      span: call.span,
      function: formula.name,
      says: outside,
      value: true,
    });
  }
  if (context.called) {
    const assumptions = [...bound.values()].flatMap((b) => (b.assumption ? [b.assumption] : []));
    context.called(formula, [], assumptions);
  }
  return shown;
}

/** The result in the formula's unit; undefined where it is of another kind, which depends on the values then. */
function inItsUnit(result: Quantity, { unit }: ShopFormula): Quantity | undefined {
  if (result.dimension !== unit.dimension || !Number.isFinite(result.si)) return undefined;
  const fitting = showable(unit, result);
  return fitting && { ...withoutSampling(result), unit: fitting };
}

function noValue(formula: ShopFormula, call: Call, inside: readonly Problem[]): Problem {
  const why = sentences(inside).join(" ");
  const holds = formula.validity === "" ? "" : ` It holds for: ${formula.validity}`;
  return {
    rule: "reading/out-of-validity",
    span: call.span,
    function: formula.name,
    says: [`\`${formula.name}\` has no value for these numbers.${why === "" ? "" : ` ${why}`}${holds}`],
    value: false,
  };
}

/** What the built-in functions and the arithmetic inside found; dimensions were checked in the shop file. */
const sentences = (problems: readonly Problem[]): string[] =>
  problems.flatMap((problem) => (problem.rule === "reading/out-of-validity" ? problem.says : []));

function* beyondBounds(
  formula: ShopFormula,
  bound: ReadonlyMap<string, Bound>,
  result: Quantity,
): Iterable<string> {
  for (const [name, bounds] of formula.within) {
    const quantity = bound.get(name)?.quantity;
    if (quantity && isBeyond(quantity.si, bounds)) yield beyond(name, quantity, formula, bounds);
  }
  const { resultWithin } = formula;
  if (resultWithin && isBeyond(result.si, resultWithin)) {
    yield beyond("result", result, formula, resultWithin);
  }
}

/** Unit conversion leaves residues in the last places; a value at the end of a range lies inside. */
function isBeyond(si: number, { low, high }: Bounds): boolean {
  const room = 1e-12 * Math.max(Math.abs(si), Math.abs(low ?? 0), Math.abs(high ?? 0));
  return (low !== undefined && si < low - room) || (high !== undefined && si > high + room);
}

function beyond(name: string, quantity: Quantity, formula: ShopFormula, bounds: Bounds): string {
  const unit = shownUnit(quantity);
  const value = unit ? inWords(fromSI(quantity.si, unit), null, unit.spelling) : String(quantity.si);
  const whose = name === "result" ? "its result" : `its ${name}`;
  return `The shop's \`${formula.name}\` holds for ${whose}: ${bounds.says}. Here it is ${value}.`;
}
