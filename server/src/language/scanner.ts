import { CLAUSE_WORDS, FORMULA_WORDS, TOKENS } from "../../../grammar/line-language.ts";
import type { Clock, DateText, Name, NumberText, Span, UnitText } from "./syntax.ts";

/** Reads the tokens of the declared grammar at a place in a line. Every function is free of state. */

const sticky = (source: string): RegExp => new RegExp(source, "uy");
const NUMBER = sticky(TOKENS.number);
const FRACTION = sticky(TOKENS.fraction);
const WORD = sticky(TOKENS.word);
const LATER_WORD = sticky(TOKENS.laterWord);
const UNIT = sticky(TOKENS.unit);
const TIME = sticky(TOKENS.time);
const TO_DO = sticky(TOKENS.toDo);
const DATE = sticky(TOKENS.date);

const reserved = new Set<string>(FORMULA_WORDS);
const notUnits = new Set<string>([...FORMULA_WORDS, ...CLAUSE_WORDS]);

export function matchAt(expression: RegExp, text: string, at: number): RegExpExecArray | null {
  expression.lastIndex = at;
  return expression.exec(text);
}

export const isBlank = (code: number): boolean => code === 32 || code === 9 || code === 0xa0;

export function skipBlanks(text: string, from: number): number {
  let at = from;
  while (at < text.length && isBlank(text.charCodeAt(at))) at++;
  return at;
}

/** Drops blanks at the end of `text[from, to)`. */
export function trimEnd(text: string, from: number, to: number): number {
  let end = to;
  while (end > from && isBlank(text.charCodeAt(end - 1))) end--;
  return end;
}

/** A plain number without a sign, or undefined. `end` limits how far it may reach. */
export function readNumber(text: string, at: number): NumberText | undefined {
  const first = text.charCodeAt(at);
  // Most calls ask at a letter; a look at one character spares the expression.
  if (!(first >= 48 && first <= 57) && first !== 46) return undefined;
  const match = matchAt(NUMBER, text, at);
  if (!match) return undefined;
  const written = match[0];
  return {
    span: { from: at, to: at + written.length },
    value: Number(written),
    step: lastDigitStep(written),
  };
}

/** `3/16` or `1 1/2`: a fraction, when it is written without blanks round the stroke. */
export function readFraction(text: string, at: number): NumberText | undefined {
  const match = matchAt(FRACTION, text, at);
  if (!match) return undefined;
  const over = Number(match[2]);
  const under = Number(match[3]);
  const proper = match[1] === undefined || over < under;
  const next = text.charCodeAt(at + match[0].length);
  const runsOn = (next >= 48 && next <= 57) || next === 46 || next === 47;
  if (under === 0 || !proper || runsOn) return undefined;
  return {
    span: { from: at, to: at + match[0].length },
    value: Number(match[1] ?? 0) + over / under,
    step: 1 / under,
  };
}

/** Size of one step of the last digit shown. */
export function lastDigitStep(written: string): number {
  const [digits = "", exponent = "0"] = written.toLowerCase().split("e");
  const point = digits.indexOf(".");
  const decimals = point < 0 ? 0 : digits.length - point - 1;
  return 10 ** (Number(exponent) - decimals);
}

/** Digits shown after the point, for results rounded as they were recorded. */
export function decimalsShown(written: string): number {
  const [digits = "", exponent = "0"] = written.toLowerCase().split("e");
  const point = digits.indexOf(".");
  return (point < 0 ? 0 : digits.length - point - 1) - Number(exponent);
}

/**
 * A name: words with single spaces up to the next operator, comma or bracket.
 * Words such as `and` end it inside a formula but are welcome in a step's name.
 */
export function readName(text: string, at: number, inFormula: boolean, end = text.length): Name | undefined {
  const first = matchAt(WORD, text, at);
  if (!first || (inFormula && reserved.has(first[0].toLowerCase()))) return undefined;
  let to = at + first[0].length;
  let key = first[0];
  for (;;) {
    const next = skipBlanks(text, to);
    if (next === to || next >= end) break;
    const word = matchAt(LATER_WORD, text, next);
    if (!word || (inFormula && reserved.has(word[0].toLowerCase()))) break;
    key += ` ${word[0]}`;
    to = next + word[0].length;
  }
  return { span: { from: at, to }, text: key, key: key.toLowerCase() };
}

export const nameFrom = (text: string, span: Span): Name => {
  const spaced = text.slice(span.from, span.to).split(/\s+/).join(" ");
  return { span, text: spaced, key: spaced.toLowerCase() };
};

/** A unit right after a number, a blank between them allowed. */
export function readUnitText(text: string, afterNumber: number): UnitText | undefined {
  const at = skipBlanks(text, afterNumber);
  const match = matchAt(UNIT, text, at);
  if (!match || notUnits.has(match[0].toLowerCase())) return undefined;
  return { span: { from: at, to: at + match[0].length }, text: match[0] };
}

export function readClock(text: string, at: number): Clock | undefined {
  if (matchAt(TO_DO, text, at)) return { span: { from: at, to: at + 5 }, minutes: undefined };
  const match = matchAt(TIME, text, at);
  if (!match) return undefined;
  return {
    span: { from: at, to: at + match[0].length },
    minutes: Number(match[1]) * 60 + Number(match[2]),
  };
}

/** A date that exists; `2031-02-30` is not one. */
export function readDate(text: string, at: number): DateText | undefined {
  const match = matchAt(DATE, text, at);
  if (!match) return undefined;
  const iso = match[0];
  const day = new Date(`${iso}T00:00:00Z`);
  if (Number.isNaN(day.getTime()) || day.toISOString().slice(0, 10) !== iso) return undefined;
  return { span: { from: at, to: at + iso.length }, iso };
}

/**
 * Where a line's comment starts: a `#` at the line's start or after a blank, with a blank (or nothing)
 * behind it, outside quotes. The line's length when there is none.
 */
export function commentStart(text: string): number {
  let at = text.indexOf("#");
  while (at >= 0) {
    const opens = at === 0 || isBlank(text.charCodeAt(at - 1));
    const spaced = at + 1 === text.length || isBlank(text.charCodeAt(at + 1));
    if (opens && spaced && !insideQuotes(text, at)) return at;
    at = text.indexOf("#", at + 1);
  }
  return text.length;
}

/** Quotes open a text; behind a number they are inch marks and open nothing. */
function insideQuotes(text: string, at: number): boolean {
  let inside = false;
  for (let i = text.indexOf('"'); i >= 0 && i < at; i = text.indexOf('"', i + 1)) {
    if (inside || !INCH_MARK.test(text.slice(0, i))) inside = !inside;
  }
  return inside;
}

const INCH_MARK = /\d[ \t\u00a0]*$/;
