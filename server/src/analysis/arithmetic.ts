import type { BinaryOperator, Comparison, Span } from "../language/syntax.ts";
import { NONE, over, times, toPower } from "../units/dimension.ts";
import { defaultUnit, unitOfDifference } from "../units/index.ts";
import type { Operand, Problem } from "./problem.ts";
import { combine, EXACT, type Quantity, scaled, standardUncertainty } from "./quantity.ts";
import { scaleOfDifference, scaleOfProduct, scaleOfSum, wrongComparison } from "./scales.ts";

/** Sums, products and powers of quantities, with dimensions, scales and sensitivities carried along. */

type Report = (problem: Problem) => undefined;

export interface Side {
  readonly span: Span;
  readonly quantity: Quantity;
}

export const asOperand = (side: Side): Operand => ({
  span: side.span,
  dimension: side.quantity.dimension,
  scale: side.quantity.scale,
  unit: unitShown(side.quantity),
});

export const unitShown = (quantity: Quantity): string =>
  quantity.unit?.spelling ?? defaultUnit(quantity.dimension, quantity.scale)?.spelling ?? "";

export function addOrSubtract(
  operator: "+" | "-",
  span: Span,
  left: Side,
  right: Side,
  report: Report,
): Quantity | undefined {
  const a = left.quantity;
  const b = right.quantity;
  if (a.dimension !== b.dimension) {
    return report({
      rule: "unit/mismatch",
      case: "sum",
      span,
      operator,
      left: asOperand(left),
      right: asOperand(right),
    });
  }
  const scale = operator === "+" ? scaleOfSum(a, b) : scaleOfDifference(a, b);
  if (typeof scale === "object") {
    return report({
      rule: "unit/scale-point",
      case: scale.wrong,
      span,
      left: asOperand(left),
      right: asOperand(right),
    });
  }
  const sign = operator === "+" ? 1 : -1;
  // A result on another scale than its first operand cannot be shown in that operand's unit.
  const own = scale === "difference" && a.unit ? unitOfDifference(a.unit) : undefined;
  const keeps = scale === a.scale ? a.unit : scale === b.scale ? b.unit : own;
  return {
    kind: "quantity",
    si: a.si + sign * b.si,
    dimension: a.dimension,
    scale,
    unit: keeps,
    by: combine(a.by, 1, b.by, sign),
  };
}

export function multiplyOrDivide(
  operator: "*" | "/",
  span: Span,
  left: Side,
  right: Side,
  report: Report,
): Quantity | undefined {
  const a = left.quantity;
  const b = right.quantity;
  const scale = scaleOfProduct(a, b, operator === "/");
  if (typeof scale === "object") {
    return report({
      rule: "unit/scale-point",
      case: scale.wrong,
      span,
      left: asOperand(left),
      right: asOperand(right),
    });
  }
  const plainRight = b.dimension === NONE;
  const plainLeft = a.dimension === NONE && operator === "*";
  const unit = plainRight ? a.unit : plainLeft ? b.unit : undefined;
  if (operator === "*") {
    return {
      kind: "quantity",
      si: a.si * b.si,
      dimension: times(a.dimension, b.dimension),
      scale,
      unit: plainLeft && plainRight ? undefined : unit,
      by: combine(a.by, b.si, b.by, a.si),
    };
  }
  if (b.si === 0) {
    return report({
      rule: "reading/out-of-validity",
      span,
      function: "/",
      says: ["This divides by zero."],
      value: false,
    });
  }
  return {
    kind: "quantity",
    si: a.si / b.si,
    dimension: over(a.dimension, b.dimension),
    scale,
    unit,
    by: combine(a.by, 1 / b.si, b.by, -a.si / (b.si * b.si)),
  };
}

export function power(span: Span, left: Side, right: Side, report: Report): Quantity | undefined {
  const a = left.quantity;
  const b = right.quantity;
  if (a.scale === "point") {
    return report({
      rule: "unit/scale-point",
      case: "point power",
      span,
      left: asOperand(left),
      right: asOperand(right),
    });
  }
  if (b.dimension !== NONE || (a.dimension !== NONE && b.by.size > 0)) {
    return report({ rule: "unit/mismatch", case: "power", span, got: asOperand(right) });
  }
  const si = a.si ** b.si;
  if (!Number.isFinite(si)) {
    return report({
      rule: "reading/out-of-validity",
      span,
      function: "^",
      says: ["This power has no value: the number below is zero or negative."],
      value: false,
    });
  }
  const byBase = b.si === 0 ? 0 : b.si * a.si ** (b.si - 1);
  const byExponent = a.si > 0 ? si * Math.log(a.si) : 0;
  return {
    kind: "quantity",
    si,
    dimension: toPower(a.dimension, b.si),
    scale: b.si === 1 ? a.scale : "plain",
    unit: b.si === 1 ? a.unit : undefined,
    by: Number.isFinite(byBase) ? combine(a.by, byBase, b.by, byExponent) : EXACT,
  };
}

export function negative(span: Span, side: Side, report: Report): Quantity | undefined {
  const { quantity } = side;
  if (quantity.scale === "point") {
    const operand = asOperand(side);
    return report({ rule: "unit/scale-point", case: "point negated", span, left: operand, right: operand });
  }
  return { ...withoutSampling(quantity), si: -quantity.si, by: scaled(quantity.by, -1) };
}

export function withoutSampling(quantity: Quantity): Quantity {
  if (!quantity.sampling) return quantity;
  const { sampling: _, ...rest } = quantity;
  return rest;
}

/** How a comparison came out, with the room left before it turns. */
export interface Compared {
  readonly holds: boolean;
  /** Right side minus left side for `<`, the other way round for `>`: negative when it does not hold. SI. */
  readonly margin: number;
  /** Expanded uncertainty (k = 2) of that margin, SI. */
  readonly uncertainty: number;
}

export function compare(
  operator: Comparison,
  span: Span,
  left: Side,
  right: Side,
  report: Report,
): Compared | undefined {
  const a = left.quantity;
  const b = right.quantity;
  if (a.dimension !== b.dimension) {
    return report({
      rule: "unit/mismatch",
      case: "comparison",
      span,
      operator,
      left: asOperand(left),
      right: asOperand(right),
    });
  }
  const wrong = wrongComparison(a, b);
  if (wrong) {
    return report({
      rule: "unit/scale-point",
      case: wrong,
      span,
      left: asOperand(left),
      right: asOperand(right),
    });
  }
  const uncertainty = 2 * standardUncertainty(combine(a.by, 1, b.by, -1));
  // Unit conversion leaves residues in the last places; equal is equal all the same.
  const tie = 1e-12 * Math.max(Math.abs(a.si), Math.abs(b.si));
  const [least, greatest] = extremes(a);
  const [leastRight, greatestRight] = extremes(b);
  switch (operator) {
    case "<":
    case "<=": {
      const margin = leastRight - greatest;
      return { holds: operator === "<" ? margin > tie : margin >= -tie, margin, uncertainty };
    }
    case ">":
    case ">=": {
      const margin = least - greatestRight;
      return { holds: operator === ">" ? margin > tie : margin >= -tie, margin, uncertainty };
    }
    case "==":
    case "!=": {
      const apart = Math.max(Math.abs(greatest - leastRight), Math.abs(least - greatestRight));
      const same = apart <= tie;
      return { holds: same === (operator === "=="), margin: apart, uncertainty };
    }
  }
}

/** A comparison with a list is met by every element. */
function extremes(quantity: Quantity): readonly [number, number] {
  const values = quantity.sampling?.values;
  if (!values || values.length === 0) return [quantity.si, quantity.si];
  let least = values[0] ?? quantity.si;
  let greatest = least;
  for (const v of values) {
    if (v < least) least = v;
    if (v > greatest) greatest = v;
  }
  return [least, greatest];
}

export const isComparison = (operator: BinaryOperator): operator is Comparison =>
  operator === "<" ||
  operator === "<=" ||
  operator === ">" ||
  operator === ">=" ||
  operator === "==" ||
  operator === "!=";
