import type { Comparison, Expression, LimitLine, Span } from "../language/syntax.ts";
import type { Block, Note, Placed } from "../note/note.ts";
import { type Compared, compare, isComparison } from "./arithmetic.ts";
import type { Context } from "./context.ts";
import type { Evaluation } from "./evaluation.ts";
import { sameResults, type Use } from "./evaluation-memo.ts";
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
    const known = block.content.once(nothingDecided);
    for (const [index, placed] of block.lines.entries()) {
      if (!isLimit(placed) || placed.syntax.problems.length > 0) continue;
      const { syntax } = placed;
      const before = known.get(index);
      const decided =
        before && isStillTrue(before, block.label, evaluation)
          ? before
          : decideLine(syntax, block, evaluation);
      known.set(index, decided);
      for (const one of decided.outcomes)
        outcomes.push({ block, placed, acceptance: syntax.acceptance, ...one });
      if (decided.problem) problems.push({ placed, problem: decided.problem });
    }
  }
  return { outcomes, problems };
}

const isLimit = (placed: Placed<{ readonly kind: string }>): placed is Placed<LimitLine> =>
  placed.syntax.kind === "limit";

/** What a line came to, with what it rests on: it is decided anew only when one of these has changed. */
interface DecidedLine {
  readonly label: string;
  readonly names: Evaluation["names"];
  readonly used: readonly Use[];
  readonly outcomes: readonly Decided[];
  readonly problem: Problem | undefined;
}

const nothingDecided = (): Map<number, DecidedLine> => new Map();

const isStillTrue = (line: DecidedLine, label: string, { names, byKey }: Evaluation): boolean =>
  line.label === label && line.names === names && sameResults(line.used, byKey);

function decideLine(syntax: LimitLine, { label }: Block, evaluation: Evaluation): DecidedLine {
  const used: Use[] = [];
  let problem: Problem | undefined;
  const report = (found: Problem): undefined => {
    problem ??= found;
  };
  const context = evaluation.noting(label, report, used);
  const outcomes = conjuncts(syntax.condition).flatMap((part) => decide(part, context) ?? []);
  return { label, names: evaluation.names, used, outcomes, problem };
}

/** `a and b` are two limits, each decided by itself. */
export function conjuncts(condition: Expression): readonly Expression[] {
  if (condition.kind === "binary" && condition.operator === "and") {
    return [...conjuncts(condition.left), ...conjuncts(condition.right)];
  }
  return [condition];
}

type Decided = Omit<LimitOutcome, "block" | "placed" | "acceptance">;

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
    const { span, operator } = condition;
    return { ...verdict(compared, operator), span, condition, left, right, operator };
  }
  const value = evaluate(condition, context);
  if (!value) return undefined;
  const holds = value.kind === "truth" && value.value;
  const operator = condition.kind === "is" ? "is" : condition.kind === "not" ? "not" : "or";
  const { span } = condition;
  return { verdict: holds ? "holds" : "exceeded", span, condition, margin: 0, uncertainty: 0, operator };
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
