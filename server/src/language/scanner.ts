import { CLAUSE_WORDS, FORMULA_WORDS, TOKENS } from "../../../grammar/line-language.ts";
import { isRealDay } from "../text/real-day.ts";
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

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isAsciiLetter = (code: number): boolean => (code >= 97 && code <= 122) || (code >= 65 && code <= 90);

/** A plain number without a sign, or undefined. */
export function readNumber(text: string, at: number): NumberText | undefined {
  const first = text.charCodeAt(at);
  // Most calls ask at a letter; a look at one character spares the expression.
  if (!isDigit(first) && first !== DOT) return undefined;
  const plain = plainNumberEnd(text, at);
  if (plain !== undefined) return numberAt(text, at, plain);
  const match = matchAt(NUMBER, text, at);
  return match ? numberAt(text, at, at + match[0].length) : undefined;
}

const DOT = 46;

/** End of `12` or `12.5`, by plain steps; undefined where the token's expression must decide. */
function plainNumberEnd(text: string, at: number): number | undefined {
  let end = at;
  while (isDigit(text.charCodeAt(end))) end++;
  if (end === at) return undefined;
  if (text.charCodeAt(end) === DOT && isDigit(text.charCodeAt(end + 1))) {
    end++;
    while (isDigit(text.charCodeAt(end))) end++;
  }
  const next = text.charCodeAt(end) | 32;
  return next === 101 ? undefined : end;
}

function numberAt(text: string, from: number, to: number): NumberText {
  const written = text.slice(from, to);
  return { span: { from, to }, value: Number(written), step: lastDigitStep(written) };
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
const lastDigitStep = (written: string): number => 10 ** -decimalsShown(written);

/** Digits shown after the point, for results rounded as they were recorded. Negative for `1.2e3`. */
export function decimalsShown(written: string): number {
  const exponentAt = written.search(/e/i);
  const digitsEnd = exponentAt < 0 ? written.length : exponentAt;
  const point = written.indexOf(".");
  const decimals = point < 0 || point > digitsEnd ? 0 : digitsEnd - point - 1;
  return exponentAt < 0 ? decimals : decimals - Number(written.slice(exponentAt + 1));
}

/**
 * A name: words with single spaces up to the next operator, comma or bracket.
 * Words such as `and` end it inside a formula but are welcome in a step's name.
 */
export function readName(text: string, at: number, inFormula: boolean, end = text.length): Name | undefined {
  const first = wordAt(text, at, WORD);
  if (first === undefined || (inFormula && isReserved(first))) return undefined;
  let to = at + first.length;
  let key = first;
  for (;;) {
    const next = skipBlanks(text, to);
    if (next === to || next >= end) break;
    const word = wordAt(text, next, LATER_WORD);
    if (word === undefined || (inFormula && isReserved(word))) break;
    key += ` ${word}`;
    to = next + word.length;
  }
  return { span: { from: at, to }, text: key, key: key.toLowerCase() };
}

const isReserved = (word: string): boolean => word.length <= 3 && reserved.has(word.toLowerCase());

/** A word of a name. Plain ASCII letters are stepped over; anything else is left to the token's expression. */
function wordAt(text: string, at: number, expression: RegExp): string | undefined {
  let to = at;
  while (isAsciiLetter(text.charCodeAt(to))) to++;
  const next = text.charCodeAt(to);
  const ends = Number.isNaN(next) || (next < 128 && !isDigit(next) && !WORD_GOES_ON.has(next));
  if (to > at && ends) return text.slice(at, to);
  if (to === at && next < 128 && !isDigit(next)) return undefined;
  return matchAt(expression, text, at)?.[0];
}

/** `'`, `-` and `_` may stand inside a word. */
const WORD_GOES_ON = new Set([39, 45, 95]);

export const nameFrom = (text: string, span: Span): Name => {
  const spaced = text.slice(span.from, span.to).split(/\s+/).join(" ");
  return { span, text: spaced, key: spaced.toLowerCase() };
};

/** A unit right after a number, a blank between them allowed. */
export function readUnitText(text: string, afterNumber: number): UnitText | undefined {
  const at = skipBlanks(text, afterNumber);
  const plain = plainUnitEnd(text, at);
  if (plain !== undefined) {
    const word = text.slice(at, plain);
    return notUnits.has(word.toLowerCase()) ? undefined : { span: { from: at, to: plain }, text: word };
  }
  const match = matchAt(UNIT, text, at);
  if (!match || notUnits.has(match[0].toLowerCase())) return undefined;
  return { span: { from: at, to: at + match[0].length }, text: match[0] };
}

/** Words after which a unit may run on past a blank, as `fl oz` or `61 % RH` do. */
const UNIT_MAY_GO_ON = new Set(
  "delta deg US UK imperial imp gallon gallons gal quart quarts qt pint pints pt floz fl in ft mm cm cu sq lb V %".split(
    " ",
  ),
);

/** End of a unit of ASCII letters alone (or of `%`), by plain steps; undefined where the expression must decide. */
function plainUnitEnd(text: string, at: number): number | undefined {
  let to = at;
  while (isAsciiLetter(text.charCodeAt(to))) to++;
  if (to === at && text.charCodeAt(at) === PERCENT) to++;
  if (to === at) return undefined;
  const next = text.charCodeAt(to);
  if (Number.isNaN(next) || next === COMMA || next === CLOSING) return to;
  if (!isBlank(next)) return undefined;
  return UNIT_MAY_GO_ON.has(text.slice(at, to)) ? undefined : to;
}

const PERCENT = 37;
const CLOSING = 41;
const COMMA = 44;

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
  if (!isRealDay(iso)) return undefined;
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
