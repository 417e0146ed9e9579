import type { Fix } from "../analysis/analysis.ts";
import type { Problem } from "../analysis/problem.ts";
import { SCALE_MISTAKES, scaleArgumentMessage, scaleInWords } from "../analysis/problem-in-words.ts";
import type { Range } from "../note/note.ts";
import { STANDARD_PRESSURE, standardPressure } from "../physics/atmosphere.ts";
import { type Report, type Rule, type RulePage, rangeOn, replace, type Subject } from "./rule.ts";

type ScalePoint = Extract<Problem, { rule: "unit/scale-point" }>;

export const rule: Rule = {
  id: "unit/scale-point",
  severity: "error",
  why: "A point on a temperature scale and a gauge pressure have a zero that somebody chose; used as if it were a true zero, results are wrong by hundreds of degrees or a whole atmosphere.",
  *check(subject): Iterable<Report> {
    const ambient = ambientWords(subject);
    for (const { problem, placed } of subject.problems("unit/scale-point")) {
      yield report(problem, (span) => rangeOn(placed, span), subject.note.text, ambient);
    }
  },
};

function report(
  problem: ScalePoint,
  at: (span: { from: number; to: number }) => Range,
  text: string,
  ambient: Ambient,
): Report {
  const range = at(problem.span);
  switch (problem.case) {
    case "bare absolute":
      return {
        range,
        message: `\`${problem.name}\` is an absolute pressure, but \`${problem.spelling}\` alone reads as gauge.`,
        advice: `Write \`${problem.spelling}(a)\`.`,
        fixes: [replace(`Write ${problem.spelling}(a)`, range, `${problem.spelling}(a)`, "safe")],
      };
    case "relative tolerance":
      return {
        range,
        message: `A percentage of a temperature in ${problem.spelling} depends on where the scale has its zero.`,
        advice: "Write the tolerance in kelvin, as in `± 0.5 K`.",
      };
    case "argument":
      return argument(problem, range, text.slice(range.from, range.to), ambient);
    default: {
      const [message, advice] = SCALE_MISTAKES[problem.case];
      const related = [problem.left, problem.right].map((side) => ({
        range: at(side.span),
        message: `This is ${scaleInWords(side.scale)}${side.unit ? ` (${side.unit})` : ""}.`,
      }));
      return { range, message, advice, related, fixes: mends(problem, at, text, ambient) };
    }
  }
}

/** What stands for the ambient pressure in a mend: the note's own reading, or a number said aloud. */
interface Ambient {
  readonly write: string;
  /** Where the number comes from, when the note has no reading of its own. */
  readonly said: string;
}

function ambientWords({ evaluation, shop }: Subject): Ambient {
  if (evaluation.scope.byKey.has("ambient pressure")) return { write: "ambient pressure", said: "" };
  const barometer = evaluation.scope.byKey.get("barometer");
  if (barometer) return { write: barometer.name, said: "" };
  const kPa = (
    (shop.altitude === undefined ? STANDARD_PRESSURE : standardPressure(shop.altitude)) / 1000
  ).toFixed(1);
  const from = shop.altitude === undefined ? "the standard atmosphere" : "the shop's altitude";
  return {
    write: `${kPa} kPa(a)`,
    said: ` The note has no \`ambient pressure\`, so ${kPa} kPa from ${from} is offered.`,
  };
}

function argument(
  problem: Extract<ScalePoint, { case: "argument" }>,
  range: Range,
  written: string,
  ambient: Ambient,
): Report {
  const message = scaleArgumentMessage(problem);
  if (problem.needs === "absolute") {
    return {
      range,
      message,
      advice: `Add the ambient pressure, or write \`(a)\` behind the unit if it was read as absolute.${ambient.said}`,
      fixes: [replace(`Add ${ambient.write}`, range, `${written} + ${ambient.write}`, "choice")],
    };
  }
  if (problem.needs === "gauge") {
    return {
      range,
      message,
      advice: `Take the ambient pressure away.${ambient.said}`,
      fixes: [replace(`Take ${ambient.write} away`, range, `${written} - ${ambient.write}`, "choice")],
    };
  }
  return {
    range,
    message,
    advice:
      problem.needs === "point"
        ? "Give a temperature in degC, degF or K."
        : "Give a difference, in `K`, `delta degC` or `delta degF`, or one temperature minus another.",
  };
}

/** A gauge pressure beside an absolute one is made absolute. */
function mends(
  problem: Extract<ScalePoint, { left: unknown }>,
  at: (span: { from: number; to: number }) => Range,
  text: string,
  ambient: Ambient,
): readonly Fix[] {
  if (problem.case !== "gauge against absolute" && problem.case !== "gauge minus absolute") return [];
  const gauge = problem.left.scale === "absolute" ? problem.right : problem.left;
  const range = at(gauge.span);
  const written = text.slice(range.from, range.to);
  return [
    replace(`Add ${ambient.write} to the gauge side`, range, `(${written} + ${ambient.write})`, "choice"),
  ];
}

export const page: RulePage = {
  title: "Points on a scale, gauge and absolute",
  means:
    "Temperatures in degC and degF are points on a scale, and pressures are gauge (against ambient) or absolute (against vacuum). Points cannot be added or multiplied, and the two kinds of pressure cannot be mixed.",
  mend: "Write differences in K, and turn gauge into absolute by adding the ambient pressure.",
  fix: "Adds `(a)` to readings that can only be absolute; adds or takes away the note's ambient pressure.",
  source:
    "Common practice, no source; temperature intervals after the BIPM SI Brochure, 2.3.1 (clause from memory).",
  breaks: {
    note: "```readings\nbay temperature: 19.5 degC\nlens temperature: 12 degC\nsum = bay temperature + lens temperature\n```\n",
  },
  keeps: {
    note: "```readings\nbay temperature: 19.5 degC\nlens temperature: 12 degC\nstep [K] = bay temperature - lens temperature\n```\n",
  },
};
