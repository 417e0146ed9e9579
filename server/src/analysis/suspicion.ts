import type { Expression } from "../language/syntax.ts";
import { findFunction } from "../physics/registry.ts";
import { NONE } from "../units/dimension.ts";
import type { Context } from "./context.ts";
import { COVERAGE, type Quantity, standardUncertainty } from "./quantity.ts";
import { namesIn } from "./scope.ts";

/** Share of a value, or of the result, from which an uncertainty is too large to trust first order unseen. */
const FIFTH = 0.2;

/**
 * Whether first order is to be doubted for this result, told without working anything out: the formula may
 * bend, and an input is uncertain by more than a fifth of itself, or one source makes out more than a fifth
 * of the result, or a share comes near 0 or 100 %, or an uncertain input has no effect at first order.
 */
export const isSuspicious = (formula: Expression, result: Quantity, context: Context): boolean =>
  mayBend(formula) && inputsAreTooUncertain(result, inputsOf(formula, context));

const bending = new WeakMap<Expression, boolean>();

/** Sums and differences never bend; neither do functions of repeated readings, which find their own scatter. */
function mayBend(node: Expression): boolean {
  const known = bending.get(node);
  if (known !== undefined) return known;
  const made = bendsSomewhere(node);
  bending.set(node, made);
  return made;
}

function bendsSomewhere(node: Expression): boolean {
  switch (node.kind) {
    case "call":
      return !takesSamples(node);
    case "negate":
      return mayBend(node.operand);
    case "binary":
      if (node.operator === "*") return !isNumber(node.left) && !isNumber(node.right);
      if (node.operator === "/") return !isNumber(node.right);
      if (node.operator === "^") return true;
      return (node.operator === "+" || node.operator === "-") && (mayBend(node.left) || mayBend(node.right));
    default:
      return false;
  }
}

const isNumber = (node: Expression): boolean => node.kind === "number";

export const takesSamples = (node: Expression): boolean =>
  node.kind === "call" &&
  (findFunction(node.name.key)?.parameters.some((p) => p.takes.kind === "samples") ?? false);

function inputsOf(formula: Expression, context: Context): readonly Quantity[] {
  const inputs: Quantity[] = [];
  for (const name of namesIn(formula)) {
    const found = context.lookup(name);
    if (found && found !== "missing" && found.kind === "quantity" && found.by.size > 0) inputs.push(found);
  }
  return inputs;
}

function inputsAreTooUncertain(result: Quantity, inputs: readonly Quantity[]): boolean {
  const size = Math.abs(result.si);
  for (const [source, c] of result.by) if (Math.abs(c) * source.standard > FIFTH * size) return true;
  if (nearBound(result)) return true;
  for (const input of inputs) {
    if (standardUncertainty(input.by) > FIFTH * Math.abs(input.si) || nearBound(input)) return true;
    if (!actsOn(result, input)) return true;
  }
  return false;
}

/** Whether any source of an input has an effect on the result. */
function actsOn(result: Quantity, input: Quantity): boolean {
  for (const source of input.by.keys()) if ((result.by.get(source) ?? 0) !== 0) return true;
  return false;
}

/** A share within its uncertainty of 0 or 100 %. */
function nearBound({ dimension, unit, si, by }: Quantity): boolean {
  if (dimension !== NONE || unit?.spelling !== "%" || si < 0 || si > 1 || by.size === 0) return false;
  const expanded = COVERAGE * standardUncertainty(by);
  return si - expanded < 0 || si + expanded > 1;
}
