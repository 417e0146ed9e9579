import type { FormulaLine } from "../language/syntax.ts";
import { PRESSURE } from "../units/dimension.ts";
import { type OwnUnits, readUnit } from "../units/index.ts";
import type { Unit } from "../units/unit.ts";
import { asOperand } from "./arithmetic.ts";
import type { Problem } from "./problem.ts";
import type { Quantity, Result } from "./quantity.ts";

/** The unit that a name asks for in brackets, and which unit may show which quantity. */

export function inDisplayUnit(
  line: FormulaLine,
  result: Result,
  problems: Problem[],
  own?: OwnUnits,
): Result {
  if (result?.kind !== "quantity" || !line.displayUnit) return result;
  return inAskedUnit(result, line.displayUnit, line.formula.span, problems, own);
}

/** The result with the unit its name asks for in brackets, when the dimensions allow. */
function inAskedUnit(
  result: Quantity,
  asked: { span: { from: number; to: number }; text: string },
  formula: { from: number; to: number },
  problems: Problem[],
  own: OwnUnits | undefined,
): Quantity | undefined {
  const reading = readUnit(asked.text, own);
  if (!reading.ok) {
    problems.push({ rule: "unit/unknown", span: asked.span, spelling: asked.text, reading });
    return result;
  }
  const { unit } = reading;
  if (unit.dimension !== result.dimension) {
    problems.push({
      rule: "unit/mismatch",
      case: "shown unit",
      span: asked.span,
      got: asOperand({ span: formula, quantity: result }),
      asked: { span: asked.span, dimension: unit.dimension, scale: unit.scale, unit: asked.text },
    });
    return undefined;
  }
  const shown = showable(unit, result);
  if (shown) return { ...result, unit: shown };
  problems.push({
    rule: "unit/mismatch",
    case: "shown unit",
    span: asked.span,
    got: asOperand({ span: formula, quantity: result }),
    asked: { span: asked.span, dimension: unit.dimension, scale: unit.scale, unit: asked.text },
  });
  return undefined;
}

/** The unit fit to show a quantity of this scale, or undefined where the two cannot go together. */
export function showable(unit: Unit, quantity: Quantity): Unit | undefined {
  if (unit.scale === quantity.scale) return unit;
  if (unit.dimension === PRESSURE) {
    // A bare pressure unit shows any pressure but an absolute one; for that it must say so itself.
    if (quantity.scale === "absolute") return undefined;
    return unit.scale === "absolute" ? (quantity.scale === "plain" ? unit : undefined) : unit;
  }
  if (unit.scale === "point") return quantity.scale === "kelvin" ? unit : undefined;
  if (quantity.scale === "point") return unit.scale === "kelvin" ? unit : undefined;
  return unit;
}
