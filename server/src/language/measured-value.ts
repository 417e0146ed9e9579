import { SIGNS, TRUTH_WORDS } from "../../../grammar/line-language.ts";
import {
  decimalCommaProblem,
  groupedDigitsProblem,
  leftoverProblem,
  rangeProblem,
  syntaxProblem,
} from "./problems.ts";
import {
  matchAt,
  nameFrom,
  readClock,
  readFraction,
  readNumber,
  readUnitText,
  skipBlanks,
} from "./scanner.ts";
import type {
  Clock,
  LineProblem,
  MeasuredValue,
  Name,
  NumberText,
  Span,
  Tolerance,
  UnitText,
} from "./syntax.ts";
import { timeMeant } from "./time-problems.ts";

export interface Measured {
  value?: MeasuredValue;
  tolerance?: Tolerance;
  instrument?: Name;
  at?: Clock;
  problems: LineProblem[];
}

const LOOKS_NUMERIC = /[-+−]?(?:\d|\.\d)/y;
const ROUGH_NUMBER = /(?:[<>~≈]|ca\.?|approx\.?|about)\s*[-+−]?\d/iy;
const CLOCK_OR_DATE = /(?:\d{4}-\d{2}-\d{2}|\d{1,2}:\d{2})(?:[ T]\d{1,2}:\d{2})?\s*$/y;

/** What stands behind the colon: a number or a list with its clauses, text, or yes/no. */
export function readMeasured(text: string, from: number, to: number): Measured {
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
  const curly = CURLY.exec(written);
  if (curly) {
    const plain = `"${curly[1]}"`;
    return {
      problems: [
        {
          ...syntaxProblem(
            { from, to },
            "The quotes round this text are curly ones, as a word processor sets them.",
            'Write straight quotes, as in `"smoke"`, or none at all.',
          ),
          fixes: [{ title: `Write ${plain}`, span: { from, to }, text: plain }],
        },
      ],
    };
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
    const range = numbers.length === 1 ? rangeProblem(text, signed, at, to) : undefined;
    if (range) return { problems: [range] };
    const found = readUnitText(text, at);
    if (found && found.span.to <= to) {
      if (unit && unit.text !== found.text) return { problems: [twoUnitsProblem(unit, found)] };
      unit = found;
      at = found.span.to;
      const later = numbers.length === 1 ? rangeProblem(text, signed, at, to) : undefined;
      if (later) return { problems: [later] };
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
/** One text in quotes as a word processor or a telephone sets them. */
const CURLY = /^[“”„«‟]([^“”„«»‟"]*)[“”»‟]$/u;
const INSTRUMENT = /[^\s,#]+/y;

const twiceProblem = (span: Span, clause: string): LineProblem =>
  syntaxProblem(
    span,
    `\`${clause}\` stands twice on this line.`,
    "Keep one of the two; write another reading on a line of its own.",
  );

/** What `at 9.15` means, or else that a time is missing. */
function noClockProblem(text: string, at: number, to: number): LineProblem {
  const meant = timeMeant(text, skipBlanks(text, at + 2), to);
  if (meant) return meant;
  return syntaxProblem(
    { from: at, to: Math.min(to, at + 2) },
    "No time stands after `at`.",
    "Write the time as hours and minutes, as in `at 09:10`.",
  );
}

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
        problems.push(noClockProblem(text, at, to));
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
