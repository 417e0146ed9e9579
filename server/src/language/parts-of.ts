import type { Expression } from "./syntax.ts";

/** A formula and everything in it, outermost first. */
export function* partsOf(expression: Expression): Generator<Expression> {
  yield expression;
  switch (expression.kind) {
    case "binary":
      yield* partsOf(expression.left);
      yield* partsOf(expression.right);
      break;
    case "is":
      yield* partsOf(expression.subject);
      yield* partsOf(expression.text);
      break;
    case "negate":
    case "not":
      yield* partsOf(expression.operand);
      break;
    case "call":
      for (const argument of expression.args) yield* partsOf(argument.value);
      break;
  }
}
