import { daysMeant } from "../text/real-day.ts";
import { syntaxProblem } from "./problems.ts";
import { matchAt } from "./scanner.ts";
import type { LineProblem } from "./syntax.ts";

/** What stands before the time by habit: a list mark, or brackets round the time. */
const LIST_MARK = /[-*•+][ \t\u00a0]+(?=\[?\d{1,2}[:.]\d{2})/y;
/** `--`, `-:-` or a `--:--` without its blank before a step's words. */
const DASHES = /[-–—]{1,3}(?:[ \t]*:[ \t]*[-–—]{1,3})?[ \t\u00a0]*(?=\p{L})/uy;
const BRACKETED = /[[(](\d{1,2}[:.]?\d{2}|--:--)[\])]:?/y;
const LOOKS_LIKE_TIME =
  /(\d{1,2})[:.h]?(\d{2})(?::\d{2})?[ \t\u00a0]*(?:(am|pm|a\.m\.|p\.m\.)|h|uhr)?(?![\p{L}\p{N}])([:,;]?)/iuy;

const two = (value: number): string => String(value).padStart(2, "0");

/** Why a line of steps does not start with a time, with what was meant where only one thing can be. */
export function noTimeProblem(text: string, start: number, to: number): LineProblem {
  const days = daysMeant(text.slice(start, to));
  if (days.length > 0) return noDayProblem(text, start, to, days);
  const dashes = matchAt(DASHES, text, start);
  if (dashes) {
    const span = { from: start, to: start + dashes[0].length };
    return {
      ...syntaxProblem(
        span,
        `\`${dashes[0].trim()}\` is not read as still to do.`,
        "A step still to do starts with `--:--` and a blank.",
      ),
      fixes: [{ title: "Mark it as still to do", span, text: "--:--  " }],
    };
  }
  const mark = matchAt(LIST_MARK, text, start) ?? matchAt(BRACKETED, text, start);
  if (mark) {
    const span = { from: start, to: start + mark[0].length };
    const inside = mark[1] ?? "";
    return {
      ...syntaxProblem(
        span,
        inside === ""
          ? `The \`${mark[0].trim()}\` before the time belongs to a list.`
          : `The time stands in brackets, \`${mark[0]}\`.`,
        "Start the line with the time itself, as in `09:10  block vents`.",
      ),
      fixes: [{ title: inside === "" ? "Take the list mark away" : `Write ${inside}`, span, text: inside }],
    };
  }
  const time = matchAt(LOOKS_LIKE_TIME, text, start);
  return time ? wrongTimeProblem(time, start) : noTimeAtAll(start, to);
}

/** A time that is not written as one, such as `9.15` or `9h15`; undefined where none can be meant. */
export function timeMeant(text: string, from: number, to: number): LineProblem | undefined {
  const time = from < to ? matchAt(LOOKS_LIKE_TIME, text.slice(0, to), from) : null;
  return time ? wrongTimeProblem(time, from) : undefined;
}

function noDayProblem(text: string, from: number, to: number, days: readonly string[]): LineProblem {
  const span = { from, to };
  return {
    ...syntaxProblem(
      span,
      `\`${text.slice(from, to)}\` is not read as a day.${days.length > 1 ? " It can be read as two different days." : ""}`,
      "Write year, month and day, as in `2031-03-04`.",
    ),
    fixes: days.map((day) => ({ title: `Write ${day}`, span, text: day })),
  };
}

function wrongTimeProblem(time: RegExpExecArray, from: number): LineProblem {
  const [written, hour = "", minute = "", half, mark = ""] = time;
  const shown = written.trimEnd();
  const span = { from, to: from + shown.length };
  const isMorning = half === undefined ? undefined : /^a/i.test(half);
  const hours = onFullClock(Number(hour), isMorning);
  const minutes = Number(minute);
  if (hours === undefined || hours > 23 || minutes > 59) {
    return syntaxProblem(
      span,
      `\`${shown}\` is no time of the day.`,
      "Write hours from 00 to 23 and minutes from 00 to 59.",
    );
  }
  const meant = `${two(hours)}:${two(minutes)}`;
  const isGood = mark !== "" && /^\d{1,2}:\d{2}.$/.test(shown);
  return {
    ...syntaxProblem(
      isGood ? { from: span.to - 1, to: span.to } : span,
      isGood
        ? `A \`${mark}\` stands behind the time, where a blank belongs.`
        : `\`${shown}\` is not written as a time.`,
      isGood
        ? "Write `09:10  block vents: both`; the colon comes behind the step."
        : half === undefined
          ? "Write hours and minutes with a colon, as in `09:10`."
          : "Write the time by the 24-hour clock, as in `09:10` or `21:10`.",
    ),
    fixes: [{ title: `Write ${meant}`, span, text: meant }],
  };
}

/** 12 am is midnight. */
function onFullClock(hour: number, isMorning: boolean | undefined): number | undefined {
  if (isMorning === undefined) return hour;
  if (hour < 1 || hour > 12) return undefined;
  return (hour % 12) + (isMorning ? 0 : 12);
}

const noTimeAtAll = (start: number, to: number): LineProblem => ({
  ...syntaxProblem(
    { from: start, to },
    "This step has no time.",
    "Start the line with the time it was done, as in `09:10`, or with `--:--` for a step still to do.",
  ),
  fixes: [{ title: "Mark it as still to do", span: { from: start, to: start }, text: "--:--  " }],
});
