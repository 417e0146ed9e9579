import { isBlank, readNumber, readUnitText, skipBlanks } from "./scanner.ts";
import type { LineProblem, NumberText, Span } from "./syntax.ts";

export const syntaxProblem = (span: Span, message: string, advice: string): LineProblem => ({
  rule: "note/syntax",
  span,
  message,
  advice,
  fixes: [],
});

/**
 * `0,9` or `1,200`: a comma between digits with no blank behind it. Never guessed at: `0,9` offers the point,
 * `1,200` offers both of its meanings.
 */
export function decimalCommaProblem(
  text: string,
  number: NumberText,
  to: number,
): { problem: LineProblem; end: number } | undefined {
  const comma = number.span.to;
  if (text[comma] !== "," || comma + 1 >= to) return undefined;
  const rest = readNumber(text, comma + 1);
  if (!rest || !/^\d/.test(text.slice(comma + 1, comma + 2))) return undefined;
  let end = rest.span.to;
  while (text[end] === "," && /^\d/.test(text.slice(end + 1, end + 2))) {
    end = readNumber(text, end + 1)?.span.to ?? end + 1;
  }
  const span = { from: number.span.from, to: end };
  const written = text.slice(span.from, span.to);
  const grouped = /^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(written);
  const asPoint = written.replace(",", ".");
  const pointWorks = /^\d+(\.\d+)?$/.test(asPoint);
  const fixes = [];
  if (pointWorks) fixes.push({ title: `Write ${asPoint}`, span, text: asPoint });
  if (grouped) {
    const whole = written.replaceAll(",", "");
    fixes.push({ title: `Write ${whole}`, span, text: whole });
  }
  if (!pointWorks && !grouped) {
    const listed = written.replaceAll(",", ", ");
    fixes.push({ title: `Write a list: ${listed}`, span, text: listed });
  }
  return {
    end,
    problem: {
      rule: "unit/decimal-comma",
      span,
      message:
        grouped && pointWorks
          ? `\`${written}\` can mean ${asPoint} or ${written.replaceAll(",", "")}.`
          : `\`${written}\` is written with a comma.`,
      advice: grouped
        ? "Write the number with a decimal point, and without signs between thousands."
        : "Write a decimal point; between the numbers of a list put a blank after each comma.",
      fixes,
    },
  };
}

/** `41 200`: digits in groups. The fix draws them together. */
export function groupedDigitsProblem(text: string, first: NumberText, to: number): LineProblem | undefined {
  let end = first.span.to;
  const group = /[ \u00a0\u202f'’]\d{3}(?!\d)/y;
  for (;;) {
    group.lastIndex = end;
    if (end >= to || !group.test(text)) break;
    end += 4;
  }
  if (end === first.span.to || end > to) return undefined;
  const span = { from: first.span.from, to: end };
  const whole = text.slice(span.from, span.to).replace(/[^0-9.]/g, "");
  return {
    ...syntaxProblem(
      span,
      `\`${text.slice(span.from, span.to)}\` reads as more than one number.`,
      "Write the digits together, without blanks between thousands.",
    ),
    fixes: [{ title: `Write ${whole}`, span, text: whole }],
  };
}

const RANGE = /[ \t\u00a0]*(?:-|–|—|\.\.+|…|to(?![\p{L}])|bis(?![\p{L}]))[ \t\u00a0]*(?=\d|\.\d)/uy;

/** `0.7-0.8 psi`: a reading is one value and what it may be off by. The fix writes the middle and half the width. */
export function rangeProblem(
  text: string,
  first: NumberText,
  at: number,
  to: number,
): LineProblem | undefined {
  if (at >= to || !"-–—.…tTbB".includes(text.charAt(skipBlanks(text, at)))) return undefined;
  RANGE.lastIndex = at;
  if (!RANGE.test(text)) return undefined;
  const second = readNumber(text, RANGE.lastIndex);
  if (!second || second.span.to > to) return undefined;
  const span = { from: first.span.from, to: second.span.to };
  const problem = syntaxProblem(
    span,
    `\`${text.slice(span.from, span.to)}\` is a range, and a reading is one value.`,
    "Write what was read and how far it may be off, as in `0.75 psi ± 0.05 psi`; several readings as a list, as in `0.7, 0.8 psi`.",
  );
  if (second.value <= first.value) return problem;
  const digits = Math.max(decimalsOf(text, first.span), decimalsOf(text, second.span)) + 1;
  const plain = (value: number): string => String(Number(value.toFixed(digits)));
  const middle = plain((first.value + second.value) / 2);
  const half = plain((second.value - first.value) / 2);
  const unit = readUnitText(text, second.span.to);
  const behind = unit && unit.span.to <= to ? ` ${unit.text}` : "";
  const whole = { from: span.from, to: unit && unit.span.to <= to ? unit.span.to : span.to };
  const written = `${middle}${behind} ± ${half}${behind}`;
  return { ...problem, fixes: [{ title: `Write ${written}`, span: whole, text: written }] };
}

const decimalsOf = (text: string, { from, to }: Span): number =>
  text.slice(from, to).split(".")[1]?.length ?? 0;

/** What stands after a value and belongs to nothing. */
export function leftoverProblem(text: string, from: number, to: number, after: string): LineProblem {
  let end = from;
  while (end < to && !isBlank(text.charCodeAt(end))) end++;
  const word = text.slice(from, end);
  return {
    ...syntaxProblem(
      { from, to: end },
      `\`${word}\` does not belong after ${after}.`,
      ADVICE.get(word.toLowerCase()) ??
        "After a value come only `±`, `via` with an instrument, `at` with a time, and a comment after ` # `.",
    ),
    fixes: leftoverFixes(text, from, to),
  };
}

/** What the words of a unit that is written out stand for. */
const ADVICE = new Map([
  ["of", "Inches of water are written `inH2O`, inches of mercury `inHg`."],
  ["per", "A unit takes a slash for `per`, as in `L/min`."],
  ["°", "Degrees are written `degC` or `degF`, or with the sign before the letter, as in `°C`."],
]);

/** Where what is left over can only have been meant as a comment, or as `±`. */
function leftoverFixes(text: string, from: number, to: number): LineProblem["fixes"] {
  const rest = text.slice(from, to);
  if (/^\+-\s*\d/.test(rest)) {
    return [{ title: "Write ±", span: { from, to: from + 2 }, text: "± " }];
  }
  const by = /^(?:with|using|by)(?=[ \t]+\p{L}+\d)/iu.exec(rest);
  if (by) return [{ title: "Write via", span: { from, to: from + by[0].length }, text: "via" }];
  const mark = /^(?:#|\/\/|(?=\())/.exec(rest);
  if (!mark) return [];
  return [{ title: "Make it a comment", span: { from, to: from + mark[0].length }, text: "# " }];
}
