import type { Comparison, Expression, LimitLine, Span } from "../language/syntax.ts";
import type { Block, Note, Placed } from "../note/note.ts";
import { type Compared, compare, isComparison } from "./arithmetic.ts";
import type { Context } from "./context.ts";
import type { Evaluation } from "./evaluation.ts";
import { evaluate, quantityOf } from "./expression.ts";
import type { Problem } from "./problem.ts";
import type { Quantity } from "./quantity.ts";

/** One comparison of a limit line and how it came out. */
export interface LimitOutcome {
  readonly block: Block;
  readonly placed: Placed<LimitLine>;
  readonly span: Span;
  readonly condition: Expression;
  readonly acceptance: boolean;
  readonly verdict: "holds" | "not proven" | "exceeded";
  readonly left?: Quantity;
  readonly right?: Quantity;
  readonly operator?: Comparison | "is" | "not" | "or";
  /** Room left before the limit, SI; negative when it is exceeded. */
  readonly margin: number;
  /** Expanded uncertainty of the margin, SI. */
  readonly uncertainty: number;
}

export interface LimitsEvaluated {
  readonly outcomes: readonly LimitOutcome[];
  readonly problems: readonly { readonly placed: Placed<LimitLine>; readonly problem: Problem }[];
}

/**
 * Decides every limit with the uncertainty in mind (ISO 14253-1, JCGM 106): a value beyond its limit exceeds
 * it whatever its uncertainty, a value inside by less than the uncertainty is not proven.
 */
export function evaluateLimits(note: Note, evaluation: Evaluation): LimitsEvaluated {
  const outcomes: LimitOutcome[] = [];
  const problems: { placed: Placed<LimitLine>; problem: Problem }[] = [];
  for (const block of note.blocks) {
    if (block.kind !== "limits") continue;
    for (const placed of block.lines) {
      if (!isLimit(placed) || placed.syntax.problems.length > 0) continue;
      const found: Problem[] = [];
      const context = evaluation.context(block.label, (problem) => {
        found.push(problem);
        return undefined;
      });
      for (const part of conjuncts(placed.syntax.condition)) {
        const outcome = decide(part, context);
        if (outcome)
          outcomes.push({
            block,
            placed,
            span: part.span,
            condition: part,
            acceptance: placed.syntax.acceptance,
            ...outcome,
          });
      }
      const first = found[0];
      if (first) problems.push({ placed, problem: first });
    }
  }
  return { outcomes, problems };
}

const isLimit = (placed: Placed<{ readonly kind: string }>): placed is Placed<LimitLine> =>
  placed.syntax.kind === "limit";

/** `a and b` are two limits, each decided by itself. */
export function conjuncts(condition: Expression): readonly Expression[] {
  if (condition.kind === "binary" && condition.operator === "and") {
    return [...conjuncts(condition.left), ...conjuncts(condition.right)];
  }
  return [condition];
}

type Decided = Pick<LimitOutcome, "verdict" | "left" | "right" | "operator" | "margin" | "uncertainty">;

function decide(condition: Expression, context: Context): Decided | undefined {
  if (condition.kind === "binary" && isComparison(condition.operator) && !comparesWords(condition, context)) {
    const left = quantityOf(condition.left, condition.operator, context);
    const right = quantityOf(condition.right, condition.operator, context);
    if (!left || !right) return undefined;
    const compared = compare(
      condition.operator,
      condition.operatorSpan,
      { span: condition.left.span, quantity: left },
      { span: condition.right.span, quantity: right },
      context.report,
    );
    if (!compared) return undefined;
    return { ...verdict(compared, condition.operator), left, right, operator: condition.operator };
  }
  const value = evaluate(condition, context);
  if (!value) return undefined;
  const holds = value.kind === "truth" && value.value;
  const operator = condition.kind === "is" ? "is" : condition.kind === "not" ? "not" : "or";
  return { verdict: holds ? "holds" : "exceeded", margin: 0, uncertainty: 0, operator };
}

function comparesWords(condition: Extract<Expression, { kind: "binary" }>, context: Context): boolean {
  if (condition.operator !== "==" && condition.operator !== "!=") return false;
  const quiet: Context = { ...context, report: () => undefined };
  const value = evaluate(condition.left, quiet);
  return value !== undefined && value.kind !== "quantity";
}

function verdict(
  compared: Compared,
  operator: Comparison,
): Pick<LimitOutcome, "verdict" | "margin" | "uncertainty"> {
  const { margin, uncertainty } = compared;
  if (!compared.holds) return { verdict: "exceeded", margin, uncertainty };
  const ordered = operator !== "==" && operator !== "!=";
  const undecided = ordered && uncertainty > 0 && margin < uncertainty;
  return { verdict: undecided ? "not proven" : "holds", margin, uncertainty };
}
