import { OUTCOME_WORDS } from "../../../grammar/line-language.ts";
import { decimalCommaProblem, syntaxProblem } from "./problems.ts";
import { commentOf } from "./readings-line.ts";
import {
  commentStart,
  isBlank,
  matchAt,
  nameFrom,
  readClock,
  readDate,
  readFraction,
  readNumber,
  readUnitText,
  skipBlanks,
  trimEnd,
} from "./scanner.ts";
import type { LineProblem, Outcome, StepLine, StepsLine } from "./syntax.ts";
import { noTimeProblem } from "./time-problems.ts";

const LOOKS_LIKE_DATE = /\d{4}-\d{1,2}-\d{1,2}/y;
/** `9:10 pm` would be a step of the morning. */
const HALF_DAY = /[ap]\.?m(?:\.|(?![\p{L}\p{N}]))/iuy;
const outcomes = new Set<string>(OUTCOME_WORDS);

/** `HH:MM  step [place]: outcome, remark`, `--:--  step`, or a date line. */
export function readStepsLine(text: string): StepsLine {
  const end = commentStart(text);
  const comment = commentOf(text, end);
  const extra = comment ? { comment } : {};
  const start = skipBlanks(text, 0);
  const to = trimEnd(text, start, end);
  if (start >= to) return { kind: "empty", problems: [], ...extra };

  if (matchAt(LOOKS_LIKE_DATE, text, start)) return { ...readDateLine(text, start, to), ...extra };

  const time = readClock(text, start);
  const isHalfDay = time && matchAt(HALF_DAY, text, skipBlanks(text, time.span.to));
  if (!time || isHalfDay || (time.span.to < to && !isBlank(text.charCodeAt(time.span.to)))) {
    return { kind: "broken", problems: [noTimeProblem(text, start, to)], ...extra };
  }
  const step = readStep(text, skipBlanks(text, time.span.to), to);
  if ("rule" in step) return { kind: "broken", problems: [step], ...extra };
  return { kind: "step", time, ...step, ...extra };
}

function readDateLine(text: string, start: number, to: number): StepsLine {
  const date = readDate(text, start);
  if (!date) {
    return {
      kind: "broken",
      problems: [
        syntaxProblem(
          { from: start, to },
          `\`${text.slice(start, to)}\` is no day of the calendar.`,
          "Write a day as year-month-day, as in `2031-03-04`.",
        ),
      ],
    };
  }
  const after = skipBlanks(text, date.span.to);
  const problems =
    after < to
      ? [
          syntaxProblem(
            { from: after, to },
            "A date stands on a line of its own.",
            "Put the step on the next line, with its time before it.",
          ),
        ]
      : [];
  return { kind: "date", date, problems };
}

type StepParts = Omit<StepLine, "kind" | "time" | "comment">;

function readStep(text: string, start: number, to: number): StepParts | LineProblem {
  const problems: LineProblem[] = [];
  // The colon in the time of a bare `cure until 12:30` opens no remark.
  const bareUntil = bareUntilFrom(text, start, to);
  const headTo = bareUntil ?? to;
  let at = start;
  while (at < headTo && text[at] !== ":" && text[at] !== "[") at++;
  const stepEnd = trimEnd(text, start, at);
  if (stepEnd <= start) {
    return syntaxProblem(
      { from: Math.max(0, start - 1), to: Math.max(start, to) },
      "No step stands after the time.",
      "Say what was done, as in `block vents` or `retest`.",
    );
  }
  const step = nameFrom(text, { from: start, to: stepEnd });
  let place: StepParts["place"];
  if (text[at] === "[" && at < headTo) {
    const close = text.indexOf("]", at);
    if (close < 0 || close >= to) {
      problems.push(
        syntaxProblem({ from: at, to: at + 1 }, "This bracket is never closed.", "Close the place with `]`."),
      );
      return { step, quantities: [], problems };
    }
    const from = skipBlanks(text, at + 1);
    const until = trimEnd(text, from, close);
    if (until > from) place = nameFrom(text, { from, to: until });
    at = skipBlanks(text, close + 1);
    if (at < headTo && text[at] !== ":") {
      const behind = { from: close + 1, to: close + 1 };
      problems.push({
        ...syntaxProblem(
          { from: at, to },
          "A colon is missing between the place and the remark.",
          "Write `step [place]: remark`.",
        ),
        fixes: [{ title: "Put a colon behind the place", span: behind, text: ":" }],
      });
      // What stands there is read on, so that its outcome is not missed as well.
      return { step, ...(place ? { place } : {}), ...readRemark(text, at, to), problems };
    }
  }
  const remarkFrom = bareUntil ?? (at < to ? skipBlanks(text, at + 1) : to);
  const rest = remarkFrom < to ? readRemark(text, remarkFrom, to) : { quantities: [] };
  return { step, ...(place ? { place } : {}), ...rest, problems };
}

const UNTIL =
  /(?<![\p{L}\p{N}-])until[ \t\u00a0]+(?:(\d{4}-\d{2}-\d{2})[ \t\u00a0]+)?((?:[01]?\d|2[0-3]):[0-5]\d)[ \t\u00a0]*$/iu;
/** Where the `until` of a step without a remark begins. */
function bareUntilFrom(text: string, start: number, to: number): number | undefined {
  const line = text.slice(start, to);
  const index = UNTIL.exec(line)?.index;
  if (
    index === undefined ||
    line
      .slice(0, index)
      .replace(/\[[^\]]*\]/, "")
      .includes(":")
  )
    return undefined;
  return start + index;
}

const FIRST_WORD = /[a-z]+(?![\p{L}\p{M}\p{N}_'’-])/iuy;

function readRemark(
  text: string,
  from: number,
  to: number,
): Pick<StepParts, "remark" | "outcome" | "quantities" | "commas" | "until"> {
  const remark = { span: { from, to }, text: text.slice(from, to) };
  const word = matchAt(FIRST_WORD, text, from)?.[0] ?? "";
  const outcome = outcomes.has(word.toLowerCase())
    ? { outcome: { span: { from, to: from + word.length }, word: word.toLowerCase() as Outcome } }
    : {};
  const untilMatch = UNTIL.exec(remark.text);
  let until: Pick<StepParts, "until"> = {};
  let quantitiesTo = to;
  if (untilMatch) {
    const start = from + untilMatch.index;
    quantitiesTo = start;
    const time = readClock(text, from + untilMatch.index + untilMatch[0].lastIndexOf(untilMatch[2] ?? ""));
    const date = untilMatch[1] ? readDate(text, text.indexOf(untilMatch[1], start)) : undefined;
    if (time) until = { until: { span: { from: start, to }, time, ...(date ? { date } : {}) } };
  }
  return { remark, ...outcome, ...until, ...quantitiesIn(text, from, quantitiesTo) };
}

const WORD_BEFORE = /[\p{L}\p{N}_.:-]/u;
/** The lower end of `0.5-2.5 psi`, and its dash. */
const RANGE_BEFORE = /(?<![\p{L}\p{N}_.:-])\d+(?:\.\d+)?-$/u;

/**
 * Every number with something that may be its unit; the analysis keeps those whose unit is known. What has a decimal
 * comma is no quantity: read on its own, the part behind the comma would be another value.
 */
function quantitiesIn(text: string, from: number, to: number): Pick<StepParts, "quantities" | "commas"> {
  const found: {
    span: { from: number; to: number };
    number: NonNullable<ReturnType<typeof readNumber>>;
    unit: NonNullable<ReturnType<typeof readUnitText>>;
  }[] = [];
  const commas: { problem: LineProblem; unit: NonNullable<ReturnType<typeof readUnitText>> }[] = [];
  let at = from;
  while (at < to) {
    const plain = startsNumber(text, at, from) ? readNumber(text, at) : undefined;
    if (!plain) {
      at++;
      continue;
    }
    const comma = decimalCommaProblem(text, plain, to);
    const number = comma ? undefined : (readFraction(text, at) ?? plain);
    const end = comma?.end ?? number?.span.to ?? plain.span.to;
    const unit = readUnitText(text, end);
    const kept = unit && unit.span.to <= to ? unit : undefined;
    if (comma && kept) commas.push({ problem: comma.problem, unit: kept });
    if (number && kept) found.push({ span: { from: at, to: kept.span.to }, number, unit: kept });
    at = Math.max(at + 1, kept?.span.to ?? end);
  }
  return { quantities: found, ...(commas.length > 0 ? { commas } : {}) };
}

/** A digit, or the point of `.5`, that is not within a word, a time or another number. */
function startsNumber(text: string, at: number, from: number): boolean {
  if (!/^\.?\d/.test(text.slice(at, at + 2))) return false;
  if (at === from || !WORD_BEFORE.test(text.charAt(at - 1))) return true;
  return text[at - 1] === "-" && RANGE_BEFORE.test(text.slice(Math.max(from, at - 12), at));
}
