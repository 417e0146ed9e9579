import {
  DEEPEST_NESTING,
  MINUS_BINDS,
  NOT_BINDS,
  OPERATORS,
  SIGNS,
  TRUTH_WORDS,
} from "../../../grammar/line-language.ts";
import { decimalCommaProblem, syntaxProblem } from "./problems.ts";
import { matchAt, readFraction, readName, readNumber, readUnitText, skipBlanks, trimEnd } from "./scanner.ts";
import type { Argument, BinaryOperator, Expression, LineProblem } from "./syntax.ts";

/**
 * Reads a formula by operator precedence, straight from the declared operator table. Whatever stands on the
 * line a tree comes back; the first thing that cannot be read is reported and a `missing` node takes its
 * place, so that the evaluator stays silent about it.
 */
export interface FormulaReading {
  readonly expression: Expression;
  /** Where reading stopped: the line's end, a recorded result, or something that does not belong. */
  readonly end: number;
}

interface Operator {
  readonly spelling: string;
  readonly meaning: BinaryOperator | "is";
  readonly binds: number;
  readonly side: "left" | "right" | "none";
}

const operators: readonly Operator[] = OPERATORS.flatMap((row) =>
  Object.entries(row.spellings).flatMap(([meaning, others]) =>
    [meaning, ...others].map((spelling) => ({
      spelling,
      meaning: meaning as BinaryOperator | "is",
      binds: row.binds,
      side: row.side,
    })),
  ),
).sort((a, b) => b.spelling.length - a.spelling.length);

const byFirstUnit = new Map<number, Operator[]>();
for (const operator of operators) {
  const first = operator.spelling.charCodeAt(0);
  byFirstUnit.set(first, [...(byFirstUnit.get(first) ?? []), operator]);
}

const WORD_CHARACTER = /[\p{L}\p{M}\p{N}_'’-]/uy;

export function readFormula(text: string, from: number, to: number, problems: LineProblem[]): FormulaReading {
  let at = from;
  let depth = 0;

  const blank = () => {
    at = Math.min(skipBlanks(text, at), to);
  };
  const report = (problem: LineProblem) => {
    // One mistake, one finding: what follows the first is mostly its echo.
    if (problems.length === 0) problems.push(problem);
  };
  const missing = (message: string, advice: string): Expression => {
    const span = {
      from: Math.max(from, trimEnd(text, from, at) - 1),
      to: Math.max(at, trimEnd(text, from, at)),
    };
    report(syntaxProblem(span, message, advice));
    return { kind: "missing", span: { from: at, to: at } };
  };

  const operatorHere = (): Operator | undefined => {
    if (at >= to) return undefined;
    for (const operator of byFirstUnit.get(text.charCodeAt(at)) ?? []) {
      if (!text.startsWith(operator.spelling, at)) continue;
      const end = at + operator.spelling.length;
      if (end > to) continue;
      const isWord = operator.spelling.charCodeAt(0) > 96 && operator.spelling.charCodeAt(0) < 123;
      if (isWord && matchAt(WORD_CHARACTER, text, end)) continue;
      if (SIGNS.tolerance.some((sign) => text.startsWith(sign, at))) continue;
      return operator;
    }
    return undefined;
  };

  const expression = (loosest: number): Expression => {
    if (++depth > DEEPEST_NESTING) {
      depth--;
      const refused = missing(
        `This formula nests more than ${DEEPEST_NESTING} levels deep.`,
        "Give parts of it names of their own on lines above, and use the names here.",
      );
      at = to;
      return refused;
    }
    let left = operand();
    let comparedAlready = false;
    for (;;) {
      blank();
      const operator = operatorHere() ?? singleEquals();
      if (!operator || operator.binds < loosest) break;
      const operatorSpan = { from: at, to: at + operator.spelling.length };
      if (operator.side === "none" && comparedAlready) {
        report(
          syntaxProblem(
            operatorSpan,
            "Two comparisons stand in one chain.",
            "Write them as two, joined by `and`: `a < b and b < c`.",
          ),
        );
      }
      comparedAlready = operator.side === "none";
      at = operatorSpan.to;
      const right = expression(operator.side === "right" ? operator.binds : operator.binds + 1);
      const span = { from: left.span.from, to: Math.max(right.span.to, operatorSpan.to) };
      left =
        operator.meaning === "is"
          ? { kind: "is", span, subject: left, text: right }
          : { kind: "binary", span, operator: operator.meaning, operatorSpan, left, right };
    }
    depth--;
    return left;
  };

  /** A single `=` where a comparison belongs: understood, and mended by a fix. */
  const singleEquals = (): Operator | undefined => {
    if (text[at] !== "=" || at >= to) return undefined;
    const span = { from: at, to: at + 1 };
    report({
      ...syntaxProblem(span, "A single `=` stands inside a formula.", "To compare two values write `==`."),
      fixes: [{ title: "Compare with `==`", span, text: "==" }],
    });
    return { spelling: "=", meaning: "==", binds: 4, side: "none" };
  };

  const operand = (): Expression => {
    blank();
    const start = at;
    if (at >= to)
      return missing(
        "The formula stops short: a value is missing here.",
        "Finish the formula, or take the last sign away.",
      );
    const minus = operatorHere();
    if (minus?.meaning === "-") {
      at += minus.spelling.length;
      const inner = expression(MINUS_BINDS);
      return { kind: "negate", span: { from: start, to: inner.span.to }, operand: inner };
    }
    if (text.startsWith("not", at) && !matchAt(WORD_CHARACTER, text, at + 3)) {
      at += 3;
      const inner = expression(NOT_BINDS);
      return { kind: "not", span: { from: start, to: inner.span.to }, operand: inner };
    }
    const first = text[at];
    if (first === "(") return bracket(start);
    if (first === '"') return quoted(start);
    return number(start) ?? nameOrCall(start) ?? unreadable();
  };

  const bracket = (start: number): Expression => {
    at++;
    const inner = expression(0);
    blank();
    if (text[at] === ")" && at < to) {
      at++;
      return { ...inner, span: { from: start, to: at } };
    }
    const span = { from: start, to: start + 1 };
    report(syntaxProblem(span, "This bracket is never closed.", "Add the closing bracket `)`."));
    return inner;
  };

  const quoted = (start: number): Expression => {
    const close = text.indexOf('"', start + 1);
    const end = close < 0 || close >= to ? to : close + 1;
    if (end === to && close !== to - 1) {
      report(
        syntaxProblem(
          { from: start, to: end },
          "These quotes are never closed.",
          'Add the closing quote `"`.',
        ),
      );
    }
    at = end;
    return {
      kind: "text",
      span: { from: start, to: end },
      text: text.slice(start + 1, close < 0 || close >= to ? to : close),
    };
  };

  const number = (start: number): Expression | undefined => {
    const plain = readNumber(text, at);
    if (!plain) return undefined;
    const comma = decimalCommaProblem(text, plain, to);
    if (comma) {
      report(comma.problem);
      at = comma.end;
      const unit = readUnitText(text, at);
      if (unit && unit.span.to <= to) at = unit.span.to;
      return { kind: "missing", span: { from: start, to: at } };
    }
    const fraction = readFraction(text, at);
    const found =
      fraction && fraction.span.to <= to && readUnitText(text, fraction.span.to) ? fraction : plain;
    const unit = readUnitText(text, found.span.to);
    at = unit && unit.span.to <= to ? unit.span.to : found.span.to;
    const span = { from: start, to: at };
    return unit && unit.span.to <= to
      ? { kind: "number", span, number: found, unit }
      : { kind: "number", span, number: found };
  };

  const nameOrCall = (start: number): Expression | undefined => {
    const name = readName(text, at, true, to);
    if (!name) return undefined;
    at = name.span.to;
    const next = skipBlanks(text, at);
    if (text[next] === "(" && next < to) {
      at = next + 1;
      return call(start, name);
    }
    if (Object.hasOwn(TRUTH_WORDS, name.key)) {
      return { kind: "truth", span: name.span, value: name.key === "yes" };
    }
    return { kind: "name", span: name.span, name };
  };

  const call = (start: number, name: NonNullable<ReturnType<typeof readName>>): Expression => {
    const args: Argument[] = [];
    const open = at - 1;
    blank();
    while (at < to && text[at] !== ")") {
      args.push(argument());
      blank();
      if (text[at] === "," && at < to) at++;
      else break;
      blank();
    }
    if (text[at] === ")" && at < to) at++;
    else {
      const span =
        at < to && problems.length === 0 && text[at] !== ")" && args.length > 0
          ? { from: at, to: Math.min(at + 1, to) }
          : { from: open, to: open + 1 };
      report(
        syntaxProblem(
          span,
          span.from === open
            ? "This bracket is never closed."
            : "Something here does not belong to the arguments.",
          "Separate arguments by commas and close the list with `)`.",
        ),
      );
    }
    return { kind: "call", span: { from: start, to: at }, name, args };
  };

  const argument = (): Argument => {
    const start = at;
    const label = readName(text, at, true, to);
    if (label) {
      const colon = skipBlanks(text, label.span.to);
      if (text[colon] === ":" && colon < to) {
        at = colon + 1;
        const labelled = expression(0);
        return { span: { from: start, to: at }, label, value: labelled };
      }
    }
    const plain = expression(0);
    return { span: { from: start, to: at }, value: plain };
  };

  const unreadable = (): Expression => {
    const width = text.codePointAt(at) ?? 0;
    const span = { from: at, to: Math.min(to, at + (width > 0xffff ? 2 : 1)) };
    const shown = text.slice(span.from, span.to);
    report(
      syntaxProblem(
        span,
        `\`${shown}\` cannot stand here.`,
        "A value, a name or a function belongs here, as in `test pressure * lens area`.",
      ),
    );
    // The stray sign may turn out to be an operator, so the missing value takes up no room.
    return { kind: "missing", span: { from: at, to: at } };
  };

  const result = expression(0);
  return { expression: result, end: at };
}
