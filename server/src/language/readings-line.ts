import { FORMULA_WORDS, SIGNS, TRUTH_WORDS } from "../../../grammar/line-language.ts";
import { readFormula } from "./formula.ts";
import { decimalCommaProblem, groupedDigitsProblem, leftoverProblem, syntaxProblem } from "./problems.ts";
import {
  commentStart,
  decimalsShown,
  matchAt,
  nameFrom,
  readClock,
  readFraction,
  readName,
  readNumber,
  readUnitText,
  skipBlanks,
  trimEnd,
} from "./scanner.ts";
import type {
  Clock,
  Comment,
  LineProblem,
  MeasuredValue,
  Name,
  NumberText,
  ReadingsLine,
  Recorded,
  Span,
  Tolerance,
  UnitText,
} from "./syntax.ts";

/** `name: value` or `name = formula`. */
export function readReadingsLine(text: string): ReadingsLine {
  const end = commentStart(text);
  const comment = commentOf(text, end);
  const extra = comment ? { comment } : {};
  const start = skipBlanks(text, 0);
  const to = trimEnd(text, start, end);
  if (start >= to) return { kind: "empty", problems: [], ...extra };

  const name = readName(text, start, false, to);
  if (!name) return { kind: "broken", problems: [noNameProblem(text, start, to)], ...extra };

  const taken = takenNameProblem(text, name);
  if (taken) return { kind: "broken", name, problems: [taken], ...extra };

  let at = skipBlanks(text, name.span.to);
  const bracketed = text[at] === "[" ? readDisplayUnit(text, at, to) : undefined;
  if (bracketed && "rule" in bracketed) return { kind: "broken", name, problems: [bracketed], ...extra };
  if (bracketed) at = skipBlanks(text, bracketed.end);
  const displayUnit = bracketed?.unit ? { displayUnit: bracketed.unit } : {};

  if (at < to && text[at] === "=" && text[at + 1] !== "=") {
    return { ...readDefinition(text, name, at + 1, to), ...displayUnit, ...extra };
  }
  if (at < to && text[at] === ":") {
    const measured = readMeasured(text, skipBlanks(text, at + 1), to);
    if (!measured.value) return { kind: "broken", name, problems: measured.problems, ...extra };
    return { kind: "measured", name, ...displayUnit, ...measured, value: measured.value, ...extra };
  }
  return { kind: "broken", name, problems: [noSignProblem(text, name, at, to)], ...extra };
}

export function commentOf(text: string, from: number): Comment | undefined {
  if (from >= text.length) return undefined;
  return { span: { from, to: text.length }, text: text.slice(from + 1).trim() };
}

const formulaWords = new Set<string>(FORMULA_WORDS);

/** A name that no formula could use, as its words mean something else there. */
export function takenNameProblem(text: string, name: Name): LineProblem | undefined {
  const words = [...text.slice(name.span.from, name.span.to).matchAll(/[^ \t\u00a0]+/g)];
  const isTaken = (word: string) =>
    formulaWords.has(word) || (words.length === 1 && Object.hasOwn(TRUTH_WORDS, word));
  const word = words.find(([written]) => isTaken(written.toLowerCase()));
  if (!word) return undefined;
  const from = name.span.from + word.index;
  return syntaxProblem(
    { from, to: from + word[0].length },
    `\`${word[0]}\` cannot stand in a name: formulas give it a meaning of their own.`,
    "Choose another word, or join the words by hyphens, as in `drain-and-refill`.",
  );
}

function noNameProblem(text: string, start: number, to: number): LineProblem {
  return syntaxProblem(
    { from: start, to },
    "This line does not start with a name.",
    "Write `name: value unit` for something read, or `name = formula` for something worked out. " +
      `Put plain remarks outside the block or after \` # \`.${/^[-*•]/.test(text.slice(start)) ? " Leave the list mark out." : ""}`,
  );
}

function noSignProblem(text: string, name: Name, at: number, to: number): LineProblem {
  const stray = at < to ? text.slice(at, at + 1) : "";
  const problem = syntaxProblem(
    { from: name.span.from, to: at < to ? at + 1 : name.span.to },
    stray ? `\`${stray}\` cannot stand in a name.` : `\`${name.text}\` has no value yet.`,
    "Write a colon and what was read, or an equals sign and a formula.",
  );
  // `test pressure 0.8 psi`: the colon can only belong before the number.
  const number = /^(.*?[^\s])\s+[-+−]?(?:\d|\.\d)/u.exec(text.slice(name.span.from, to));
  if (!number) return problem;
  const colonAt = name.span.from + (number[1]?.length ?? 0);
  return {
    ...problem,
    fixes: [{ title: "Put a colon before the number", span: { from: colonAt, to: colonAt }, text: ":" }],
  };
}

function readDisplayUnit(
  text: string,
  open: number,
  to: number,
): { unit?: UnitText; end: number } | LineProblem {
  const close = text.indexOf("]", open);
  // A unit may itself hold brackets ([psi]); the one that closes is the last before the sign.
  let last = close;
  while (last >= 0 && last < to && !":=".includes(text.charAt(skipBlanks(text, last + 1)) || " "))
    last = text.indexOf("]", last + 1);
  const end = last >= 0 && last < to ? last : close;
  if (end < 0 || end >= to) {
    return syntaxProblem(
      { from: open, to: open + 1 },
      "This bracket is never closed.",
      "Close the unit with `]`.",
    );
  }
  const from = skipBlanks(text, open + 1);
  const until = trimEnd(text, from, end);
  if (from >= until) return { end: end + 1 };
  return { unit: { span: { from, to: until }, text: text.slice(from, until) }, end: end + 1 };
}

// ---- Measured values -------------------------------------------------------------------------------

interface Measured {
  value?: MeasuredValue;
  tolerance?: Tolerance;
  instrument?: Name;
  at?: Clock;
  problems: LineProblem[];
}

const LOOKS_NUMERIC = /[-+−]?(?:\d|\.\d)/y;
const ROUGH_NUMBER = /(?:[<>~≈]|ca\.?|approx\.?|about)\s*[-+−]?\d/iy;
const CLOCK_OR_DATE = /(?:\d{4}-\d{2}-\d{2}|\d{1,2}:\d{2})(?:[ T]\d{1,2}:\d{2})?\s*$/y;

function readMeasured(text: string, from: number, to: number): Measured {
  const written = text.slice(from, to);
  if (from >= to) {
    const at = Math.max(0, to - 1);
    return {
      problems: [
        syntaxProblem(
          { from: at, to },
          "Nothing stands after the colon.",
          "Write what was read, with its unit.",
        ),
      ],
    };
  }
  const lower = written.toLowerCase();
  if (Object.hasOwn(TRUTH_WORDS, lower)) {
    return { value: { kind: "truth", span: { from, to }, value: lower === "yes" }, problems: [] };
  }
  if (written.startsWith('"') && written.endsWith('"') && written.length > 1) {
    return { value: { kind: "text", span: { from, to }, text: written.slice(1, -1) }, problems: [] };
  }
  if (matchAt(LOOKS_NUMERIC, text, from) && !matchAt(CLOCK_OR_DATE, text.slice(0, to), from)) {
    return readNumeric(text, from, to);
  }
  if (matchAt(ROUGH_NUMBER, text, from)) {
    return {
      problems: [
        syntaxProblem(
          { from, to },
          `\`${written}\` is neither a number nor plain text.`,
          "Write the number that was read, and how far it may be off as `± 0.1`. Put what it is compared with into a limits block.",
        ),
      ],
    };
  }
  return { value: { kind: "text", span: { from, to }, text: written }, problems: [] };
}

function readNumeric(text: string, from: number, to: number): Measured {
  const problems: LineProblem[] = [];
  const numbers: NumberText[] = [];
  let at = from;
  let unit: UnitText | undefined;
  for (;;) {
    const signed = readSigned(text, at, to);
    if ("rule" in signed) return { problems: [signed] };
    numbers.push(signed);
    at = signed.span.to;
    const found = readUnitText(text, at);
    if (found && found.span.to <= to) {
      if (unit && unit.text !== found.text) return { problems: [twoUnitsProblem(unit, found)] };
      unit = found;
      at = found.span.to;
    }
    const next = skipBlanks(text, at);
    if (text[next] !== "," || next >= to) break;
    at = skipBlanks(text, next + 1);
    if (at >= to) {
      return {
        problems: [
          syntaxProblem(
            { from: next, to: next + 1 },
            "The list ends with a comma.",
            "Add the next reading, or take the comma away.",
          ),
        ],
      };
    }
  }
  const valueSpan = { from, to: at };
  const clauses = readClauses(text, skipBlanks(text, at), to, problems);
  return {
    value: { kind: "number", span: valueSpan, numbers, ...(unit ? { unit } : {}) },
    ...clauses,
    problems,
  };
}

/** A number or fraction with an optional sign, or the problem that keeps it from being one. */
function readSigned(text: string, from: number, to: number): NumberText | LineProblem {
  const negative = text[from] === "-" || text[from] === "−";
  const at = negative || text[from] === "+" ? skipBlanks(text, from + 1) : from;
  const plain = readNumber(text, at);
  if (!plain) {
    return syntaxProblem(
      { from, to: Math.max(from + 1, Math.min(to, from + 1)) },
      "A number belongs here.",
      "Write digits with a decimal point, and the unit behind them.",
    );
  }
  const comma = decimalCommaProblem(text, plain, to);
  if (comma) return comma.problem;
  const grouped = groupedDigitsProblem(text, plain, to);
  if (grouped) return grouped;
  const number = readFraction(text, at) ?? plain;
  return {
    span: { from, to: number.span.to },
    value: negative ? -number.value : number.value,
    step: number.step,
  };
}

/** Which unit would hold for the numbers that have none cannot be told, so nothing is guessed. */
function twoUnitsProblem(unit: UnitText, other: UnitText): LineProblem {
  return syntaxProblem(
    other.span,
    `This list has two units, \`${unit.text}\` and \`${other.text}\`.`,
    "Write repeated readings in one unit, once, behind the last number: `9.1, 9.3, 9.2 A`.",
  );
}

const VIA = /via(?=[\s]|$)/iy;
const AT = /at(?=[\s]|$)/iy;
const INSTRUMENT = /[^\s,#]+/y;

const twiceProblem = (span: Span, clause: string): LineProblem =>
  syntaxProblem(
    span,
    `\`${clause}\` stands twice on this line.`,
    "Keep one of the two; write another reading on a line of its own.",
  );

/** `± 0.05 unit`, `via ID` and `at HH:MM`, in any order. */
function readClauses(
  text: string,
  from: number,
  to: number,
  problems: LineProblem[],
): Pick<Measured, "tolerance" | "instrument" | "at"> {
  const clauses: Pick<Measured, "tolerance" | "instrument" | "at"> = {};
  let at = from;
  while (at < to && problems.length === 0) {
    const sign = SIGNS.tolerance.find((s) => text.startsWith(s, at));
    if (sign) {
      const number = readNumber(text, skipBlanks(text, at + sign.length));
      const comma = number ? decimalCommaProblem(text, number, to) : undefined;
      if (comma) {
        problems.push(comma.problem);
        break;
      }
      if (!number || number.span.to > to) {
        problems.push(
          syntaxProblem(
            { from: at, to: at + sign.length },
            `No number stands after \`${sign}\`.`,
            "Write how far the reading may be off, as in `± 0.05 psi` or `± 2 %`.",
          ),
        );
        break;
      }
      if (clauses.tolerance) problems.push(twiceProblem({ from: at, to: number.span.to }, "±"));
      const unit = readUnitText(text, number.span.to);
      const kept = unit && unit.span.to <= to ? unit : undefined;
      const end = kept?.span.to ?? number.span.to;
      clauses.tolerance = { span: { from: at, to: end }, number, ...(kept ? { unit: kept } : {}) };
      at = skipBlanks(text, end);
    } else if (matchAt(VIA, text, at)) {
      const start = skipBlanks(text, at + 3);
      const id = start < to ? matchAt(INSTRUMENT, text, start) : null;
      if (!id) {
        problems.push(
          syntaxProblem(
            { from: at, to: Math.min(to, at + 3) },
            "No instrument stands after `via`.",
            "Name an instrument of the shop file, as in `via P2`.",
          ),
        );
        break;
      }
      if (clauses.instrument) problems.push(twiceProblem({ from: at, to: start + id[0].length }, "via"));
      clauses.instrument = nameFrom(text, { from: start, to: start + id[0].length });
      at = skipBlanks(text, start + id[0].length);
    } else if (matchAt(AT, text, at)) {
      const clock = readClock(text, skipBlanks(text, at + 2));
      if (!clock) {
        problems.push(
          syntaxProblem(
            { from: at, to: Math.min(to, at + 2) },
            "No time stands after `at`.",
            "Write the time as hours and minutes, as in `at 09:10`.",
          ),
        );
        break;
      }
      if (clauses.at) problems.push(twiceProblem({ from: at, to: clock.span.to }, "at"));
      clauses.at = clock;
      at = skipBlanks(text, clock.span.to);
    } else {
      problems.push(leftoverProblem(text, at, to, "a value"));
    }
  }
  return clauses;
}

// ---- Formulas ---------------------------------------------------------------------------------------

function readDefinition(text: string, name: Name, from: number, to: number): ReadingsLine {
  const problems: LineProblem[] = [];
  const start = skipBlanks(text, from);
  if (start >= to) {
    problems.push(
      syntaxProblem(
        { from: from - 1, to: from },
        "Nothing stands after the equals sign.",
        "Write a formula, as in `test pressure * lens area`.",
      ),
    );
    return { kind: "broken", name, problems };
  }
  const { expression, end } = readFormula(text, start, to, problems);
  const sign = SIGNS.recorded.find((s) => text.startsWith(s, end));
  const recorded = sign
    ? readRecorded(text, skipBlanks(text, end + sign.length), to, end, problems)
    : undefined;
  if (!sign && end < to && problems.length === 0) {
    problems.push(leftoverInFormula(text, end, to));
  }
  return { kind: "formula", name, formula: expression, problems, ...(recorded ? { recorded } : {}) };
}

function leftoverInFormula(text: string, end: number, to: number): LineProblem {
  if (SIGNS.tolerance.some((s) => text.startsWith(s, end))) {
    return syntaxProblem(
      { from: end, to },
      "A formula takes no `±`: its uncertainty follows from what it is worked out from.",
      "Put `±` behind the measured values instead.",
    );
  }
  if (text[end] === ")") {
    return syntaxProblem(
      { from: end, to: end + 1 },
      "This bracket closes nothing.",
      "Take it away, or add the bracket that opens it.",
    );
  }
  if (text[end] === ",") {
    return syntaxProblem(
      { from: end, to: end + 1 },
      "A comma stands in the middle of a formula.",
      "Write a decimal point in numbers; commas only separate a function's arguments.",
    );
  }
  const word = text.slice(end, to).split(/\s/)[0] ?? "";
  return syntaxProblem(
    { from: end, to: end + Math.max(1, word.length) },
    `No sign stands before \`${word}\`.`,
    "Write `*` to multiply, or another sign between the two values.",
  );
}

function readRecorded(
  text: string,
  from: number,
  to: number,
  signAt: number,
  problems: LineProblem[],
): Recorded | undefined {
  const negative = text[from] === "-" || text[from] === "−";
  const at = negative ? from + 1 : from;
  const number = from < to ? readNumber(text, at) : undefined;
  const comma = number ? decimalCommaProblem(text, number, to) : undefined;
  if (!number || comma) {
    if (problems.length === 0) {
      problems.push(
        comma?.problem ??
          syntaxProblem(
            { from: signAt, to },
            "No number stands after the sign for a recorded result.",
            "Record the result, as in `≈ 171 N`, or take the sign away.",
          ),
      );
    }
    return undefined;
  }
  const unit = readUnitText(text, number.span.to);
  const kept = unit && unit.span.to <= to ? unit : undefined;
  const end = kept?.span.to ?? number.span.to;
  const after = skipBlanks(text, end);
  if (after < to && problems.length === 0)
    problems.push(leftoverProblem(text, after, to, "a recorded result"));
  return {
    span: { from, to: end },
    number: negative ? { ...number, value: -number.value } : number,
    decimals: decimalsShown(text.slice(number.span.from, number.span.to)),
    ...(kept ? { unit: kept } : {}),
  };
}
