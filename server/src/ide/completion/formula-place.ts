import {
  matchAt,
  readFraction,
  readName,
  readNumber,
  readUnitText,
  skipBlanks,
} from "../../language/scanner.ts";

/** What the cursor stands at inside a formula that may be half typed. Columns count from the line's start. */
export interface FormulaPlace {
  /**
   * `value`: a name, function or number may start here or is being typed. `unit`: right behind a number.
   * `operator`: behind a finished value. `text`: inside quotes.
   */
  readonly at: "value" | "unit" | "operator" | "text";
  /** Where the word being typed starts; the cursor where none is. */
  readonly from: number;
  /** The innermost call that the cursor stands in. */
  readonly call?: OpenCall;
  /** A name that the value must be alike, since a sum or a comparison joins them. */
  readonly beside?: string;
  /** Whether the argument, or the formula, starts right here. */
  readonly first: boolean;
}

export interface OpenCall {
  readonly name: string;
  readonly index: number;
  readonly label?: string;
  /** Labels given so far. */
  readonly labels: readonly string[];
}

interface Level {
  readonly name: string | undefined;
  index: number;
  label: string | undefined;
  readonly labels: string[];
}

const ALIKE = /(?:<=|>=|==|!=|[<>≤≥≠+−–-])/y;
const WORD = /\p{L}+/uy;

/** Reads `text` from `from` to its end, which is where the cursor stands. */
export function formulaPlace(text: string, from: number): FormulaPlace {
  const end = text.length;
  const levels: Level[] = [];
  let at = skipBlanks(text, from);
  let last: string | undefined;
  let beside: string | undefined;
  let first = true;
  let expects: "value" | "operator" = "value";

  const place = (kind: FormulaPlace["at"], start: number): FormulaPlace => {
    const level = levels.findLast((l) => l.name !== undefined);
    const call = level?.name
      ? {
          name: level.name,
          index: level.index,
          labels: level.labels,
          ...(level.label ? { label: level.label } : {}),
        }
      : undefined;
    return { at: kind, from: start, first, ...(call ? { call } : {}), ...(beside ? { beside } : {}) };
  };

  while (at < end) {
    const number = readFraction(text, at) ?? readNumber(text, at);
    if (number) {
      const unit = readUnitText(text, number.span.to);
      if (skipBlanks(text, number.span.to) >= end) return place("unit", end);
      if (unit && unit.span.to >= end) return place("unit", unit.span.from);
      at = unit?.span.to ?? number.span.to;
      [last, first, expects] = [undefined, false, "operator"];
      at = skipBlanks(text, at);
      continue;
    }
    const name = readName(text, at, true, end);
    if (name) {
      const next = skipBlanks(text, name.span.to);
      if (next >= end) return place("value", name.span.from);
      if (text[next] === "(") {
        levels.push({ name: name.key, index: 0, label: undefined, labels: [] });
        [last, beside, first, expects] = [undefined, undefined, true, "value"];
        at = skipBlanks(text, next + 1);
        continue;
      }
      const level = levels.at(-1);
      if (text[next] === ":" && level) {
        level.label = name.key;
        level.labels.push(name.key);
        at = skipBlanks(text, next + 1);
        continue;
      }
      [last, first, expects] = [name.key, false, "operator"];
      at = next;
      continue;
    }
    const character = text[at];
    if (character === '"') {
      const close = text.indexOf('"', at + 1);
      if (close < 0) return place("text", at + 1);
      at = close + 1;
      expects = "operator";
    } else if (character === "(") {
      levels.push({ name: undefined, index: 0, label: undefined, labels: [] });
      [last, beside, expects] = [undefined, undefined, "value"];
      at++;
    } else if (character === ")") {
      levels.pop();
      [last, beside, first, expects] = [undefined, undefined, false, "operator"];
      at++;
    } else if (character === ",") {
      const level = levels.at(-1);
      if (level) {
        level.index++;
        level.label = undefined;
      }
      [last, beside, first, expects] = [undefined, undefined, true, "value"];
      at++;
    } else {
      const alike = matchAt(ALIKE, text, at);
      beside = alike ? last : undefined;
      at += alike?.[0].length ?? matchAt(WORD, text, at)?.[0].length ?? 1;
      [first, expects] = [false, "value"];
    }
    at = skipBlanks(text, at);
  }
  return place(expects, end);
}
