import { readFormula } from "./formula.ts";
import { limitSlip } from "./limit-slips.ts";
import { syntaxProblem } from "./problems.ts";
import { commentOf } from "./readings-line.ts";
import { commentStart, skipBlanks, trimEnd } from "./scanner.ts";
import type { Expression, LimitsLine, LineProblem } from "./syntax.ts";

const SOURCE = /(?:^|[ \t\u00a0])source[ \t\u00a0]*:/i;
const ACCEPTANCE = /\(acceptance\)$/i;

/** `a comparison   source: where the limit comes from`, perhaps with `(acceptance)` behind the comparison. */
export function readLimitsLine(text: string): LimitsLine {
  const end = commentStart(text);
  const comment = commentOf(text, end);
  const extra = comment ? { comment } : {};
  const start = skipBlanks(text, 0);
  let to = trimEnd(text, start, end);
  if (start >= to) return { kind: "empty", problems: [], ...extra };

  const problems: LineProblem[] = [];
  const sourceAt = SOURCE.exec(text.slice(start, to));
  let source: { span: { from: number; to: number }; text: string } | undefined;
  if (sourceAt) {
    const from = skipBlanks(text, start + sourceAt.index + sourceAt[0].length);
    source = { span: { from: Math.min(from, to), to }, text: text.slice(from, to) };
    to = trimEnd(text, start, start + sourceAt.index);
    if (source.text === "") {
      problems.push(
        syntaxProblem(
          { from: to, to: source.span.to },
          "Nothing stands after `source:`.",
          "Say where the limit comes from, as in `source: service information for this lamp`.",
        ),
      );
    }
  }
  const acceptance = ACCEPTANCE.exec(text.slice(start, to));
  if (acceptance) to = trimEnd(text, start, start + acceptance.index);

  const slip = problems.length === 0 ? limitSlip(text, start, to) : undefined;
  if (slip) return { kind: "broken", problems: [slip], ...extra };
  const { expression, end: stopped } = readFormula(text, start, to, problems);
  if (problems.length === 0 && skipBlanks(text, stopped) < to) {
    const word = text.slice(stopped, to).split(/\s/)[0] ?? "";
    problems.push(
      syntaxProblem(
        { from: stopped, to: stopped + Math.max(1, word.length) },
        `\`${word}\` does not belong to this limit.`,
        "After the comparison come only `(acceptance)`, `source:` and a comment after ` # `.",
      ),
    );
  }
  if (problems.length === 0 && !isCondition(expression)) {
    problems.push(
      syntaxProblem(
        expression.span,
        "This line compares nothing.",
        "A limit is a comparison that must hold, as in `test pressure <= 1 psi`.",
      ),
    );
  }
  const broken =
    problems.some((p) => p.rule === "note/syntax" && p.fixes.length === 0) && !isCondition(expression);
  if (broken) return { kind: "broken", problems, ...extra };
  return {
    kind: "limit",
    condition: expression,
    acceptance: acceptance !== null,
    problems,
    ...(source ? { source } : {}),
    ...extra,
  };
}

function isCondition(expression: Expression): boolean {
  if (expression.kind === "binary") {
    const { operator } = expression;
    if (operator === "and" || operator === "or")
      return isCondition(expression.left) && isCondition(expression.right);
    return !["+", "-", "*", "/", "^"].includes(operator);
  }
  if (expression.kind === "not") return isCondition(expression.operand) || expression.operand.kind === "name";
  return expression.kind === "is" || expression.kind === "truth" || expression.kind === "name";
}
