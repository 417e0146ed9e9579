import type { Expression, Name } from "../language/syntax.ts";
import { PLAIN_NUMBER, readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";
import {
  addOrSubtract,
  compare,
  isComparison,
  multiplyOrDivide,
  negative,
  power,
  withoutSampling,
} from "./arithmetic.ts";
import { callFunction } from "./call.ts";
import { type Context, describe } from "./context.ts";
import { EXACT, type Quantity, type Result } from "./quantity.ts";

/** Evaluates one expression. `undefined` where it has no value; the reason was reported, here or elsewhere. */
export function evaluate(expression: Expression, context: Context): Result {
  switch (expression.kind) {
    case "missing":
      return undefined;
    case "number":
      return literal(expression, 1, context);
    case "text":
      return { kind: "text", text: expression.text };
    case "truth":
      return { kind: "truth", value: expression.value };
    case "name":
      return named(expression.name, context);
    case "call":
      return callFunction(expression, context, evaluate);
    case "negate": {
      // `-5 degC` is a reading below zero, not the opposite of one.
      if (expression.operand.kind === "number") return literal(expression.operand, -1, context);
      const inner = quantityOf(expression.operand, "-", context);
      return (
        inner && negative(expression.span, { span: expression.operand.span, quantity: inner }, context.report)
      );
    }
    case "not": {
      const inner = truthOf(expression.operand, "not", context);
      return inner === undefined ? undefined : { kind: "truth", value: !inner };
    }
    case "is":
      return is(expression, context);
    case "binary":
      return binary(expression, context);
  }
}

function literal(
  node: Extract<Expression, { kind: "number" }>,
  sign: 1 | -1,
  context: Context,
): Quantity | undefined {
  const reading = node.unit
    ? readUnit(node.unit.text, context.units)
    : ({ ok: true, unit: PLAIN_NUMBER } as const);
  if (!reading.ok) {
    return context.report({
      rule: "unit/unknown",
      span: node.unit?.span ?? node.span,
      spelling: node.unit?.text ?? "",
      reading,
    });
  }
  const { unit } = reading;
  return {
    kind: "quantity",
    si: toSI(sign * node.number.value, unit),
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by: EXACT,
  };
}

function named(name: Name, context: Context): Result {
  const found = context.lookup(name);
  if (found !== "missing") return found;
  return context.report({
    rule: "reading/undefined",
    case: "name",
    span: name.span,
    name: name.text,
    nearest: context.nearestNames(name.key),
  });
}

type Binary = Extract<Expression, { kind: "binary" }>;

function binary(node: Binary, context: Context): Result {
  const { operator } = node;
  if (operator === "and" || operator === "or") {
    const left = truthOf(node.left, operator, context);
    const right = truthOf(node.right, operator, context);
    if (left === undefined || right === undefined) return undefined;
    return { kind: "truth", value: operator === "and" ? left && right : left || right };
  }
  if (operator === "==" || operator === "!=") {
    const words = comparedWords(node, context);
    if (words !== "numbers") return words;
  }
  const left = quantityOf(node.left, operator, context);
  const right = quantityOf(node.right, operator, context);
  if (!left || !right) return undefined;
  const a = { span: node.left.span, quantity: left };
  const b = { span: node.right.span, quantity: right };
  switch (operator) {
    case "+":
    case "-":
      return addOrSubtract(operator, node.operatorSpan, a, b, context.report);
    case "*":
    case "/":
      return multiplyOrDivide(operator, node.operatorSpan, a, b, context.report);
    case "^":
      return power(node.operatorSpan, a, b, context.report);
    default: {
      if (!isComparison(operator)) return undefined;
      const compared = compare(operator, node.operatorSpan, a, b, context.report);
      return compared && { kind: "truth", value: compared.holds };
    }
  }
}

/** `==` between two texts or two truths; `numbers` when both sides are quantities. */
function comparedWords(node: Binary, context: Context): Result | "numbers" {
  const left = evaluateQuietly(node.left, context);
  const right = evaluateQuietly(node.right, context);
  if (left && right && left.kind === right.kind && left.kind !== "quantity") {
    const same =
      left.kind === "text"
        ? sameWords(left.text, right.kind === "text" ? right.text : "")
        : right.kind === "truth" && left.value === right.value;
    return { kind: "truth", value: same === (node.operator === "==") };
  }
  return "numbers";
}

const evaluateQuietly = (node: Expression, context: Context): Result =>
  evaluate(node, { ...context, report: () => undefined });

function is(node: Extract<Expression, { kind: "is" }>, context: Context): Result {
  const subject = evaluate(node.subject, context);
  const wanted = evaluate(node.text, context);
  if (!subject || !wanted) return undefined;
  if (wanted.kind !== "text" || subject.kind === "quantity") {
    return context.report({
      rule: "unit/mismatch",
      case: "not a number",
      span: wanted.kind !== "text" ? node.text.span : node.subject.span,
      got: describe(wanted.kind !== "text" ? wanted : subject),
      operator: "is",
    });
  }
  const words = subject.kind === "text" ? subject.text : subject.value ? "yes" : "no";
  return { kind: "truth", value: sameWords(words, wanted.text) };
}

const sameWords = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();

/** The quantity of an operand, or undefined with a problem when it is words. */
export function quantityOf(node: Expression, operator: string, context: Context): Quantity | undefined {
  const value = evaluate(node, context);
  if (!value) return undefined;
  if (value.kind === "quantity") return isComparisonSign(operator) ? value : withoutSampling(value);
  return context.report({
    rule: "unit/mismatch",
    case: "not a number",
    span: node.span,
    got: describe(value),
    operator,
  });
}

const isComparisonSign = (operator: string): boolean => /^[<>=!]/.test(operator);

function truthOf(node: Expression, operator: string, context: Context): boolean | undefined {
  const value = evaluate(node, context);
  if (!value) return undefined;
  if (value.kind === "truth") return value.value;
  return context.report({
    rule: "unit/mismatch",
    case: "not a number",
    span: node.span,
    got: describe(value),
    operator,
  });
}
