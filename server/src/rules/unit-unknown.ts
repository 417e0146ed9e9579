import { markedLines, pickedLines } from "../note/marked-lines.ts";
import { findStep } from "../procedures/procedure.ts";
import { PRESSURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { listed, type Report, type Rule, type RulePage, rangeOn, replace, type Subject } from "./rule.ts";
import { linesNamingPressure, unreadPressures } from "./unread-pressures.ts";

export const rule: Rule = {
  id: "unit/unknown",
  severity: "error",
  why: "A value whose unit is not known can be in no formula and is held to no limit.",
  *check(subject): Iterable<Report> {
    for (const { problem, placed } of subject.problems("unit/unknown")) {
      const range = rangeOn(placed, problem.span);
      const isName = subject.evaluation.scope.byKey.has(problem.spelling.toLowerCase());
      yield isName
        ? nameForUnit(range, problem.spelling)
        : unknownUnit(range, problem.spelling, problem.reading);
    }
    yield* seriesHeads(subject);
    yield* remarks(subject);
    yield* pressuresInWords(subject);
  },
};

/** `2a` where `a` is a reading. */
const nameForUnit = (range: Report["range"], name: string): Report => ({
  range,
  message: `\`${name}\` right behind a number is read as a unit, and is no unit.`,
  advice: `To multiply by the reading \`${name}\` write \`*\` before it.`,
  fixes: [replace(`Write * ${name}`, range, ` * ${name}`, "choice")],
});

type Unread = Exclude<ReturnType<typeof readUnit>, { ok: true }>;

function unknownUnit(range: Report["range"], spelling: string, reading: Unread): Report {
  const { nearest, remark } = reading;
  const near =
    nearest.length > 0
      ? `Did you mean ${listed(nearest)}?`
      : "Write a unit such as `psi`, `L/min`, `degC` or `A`.";
  return {
    range,
    message: remark
      ? `\`${spelling}\` is not read as a unit here.`
      : `\`${spelling}\` is not a unit that is known here.`,
    advice: remark ? `${remark} ${nearest.length > 0 ? near : ""}`.trim() : near,
    fixes: nearest.map((unit) => replace(`Write ${unit}`, range, unit, "choice")),
  };
}

/**
 * In a remark most words behind a number are no units. One that is a unit but for its capitals is: left unread,
 * `2.5 PSI` would be held to no limit.
 */
function* remarks(subject: Subject): Iterable<Report> {
  for (const { block, index } of markedLines(subject.note, "quantity")) {
    const syntax = block.kind === "steps" ? block.content.trees[index] : undefined;
    if (syntax?.kind !== "step") continue;
    for (const { unit } of syntax.quantities) {
      const reading = readUnit(unit.text, subject.shop.units);
      if (reading.ok || !isMeant(reading, unit.text, syntax.step.text, subject)) continue;
      const placed = block.lines[index];
      if (placed) yield unknownUnit(rangeOn(placed, unit.span), unit.text, reading);
    }
  }
}

/** Pressures in other words, where the step asks for one: `0.8 psi, then 60 inH20` went to more than 0.8 psi. */
function* pressuresInWords({ note, procedure, shop }: Subject): Iterable<Report> {
  if (!procedure) return;
  const isTold = (unit: string): boolean => {
    const reading = readUnit(unit, shop.units);
    return reading.ok ? reading.unit.dimension === PRESSURE : isMeant(reading, unit, "", { procedure });
  };
  for (const { block, index } of pickedLines(note, "steps", linesNamingPressure)) {
    const syntax = block.content.trees[index];
    if (syntax?.kind !== "step" || !syntax.remark || syntax.time.minutes === undefined) continue;
    const found = findStep(procedure, syntax.step.text);
    if (!found.ok || !found.step.reads.includes("pressure")) continue;
    const { text, span: whole } = syntax.remark;
    for (const span of unreadPressures(syntax, isTold)) {
      const placed = block.lines[index];
      if (placed)
        yield notRead(rangeOn(placed, span), text.slice(span.from - whole.from, span.to - whole.from));
    }
  }
}

const notRead = (range: Report["range"], written: string): Report => ({
  range,
  message: `\`${written}\` looks like a pressure, and is not read as one, so no limit watches over it.`,
  advice:
    "Write a plain number and one of the units `psi`, `kPa`, `mbar`, `bar` or `inH2O`, as in `2.5 psi`.",
});

/** Degrees without their letters count where the step's temperature does: `dry: warm air 85 C`. */
function isMeant(
  reading: Unread,
  unit: string,
  step: string,
  { procedure }: Pick<Subject, "procedure">,
): boolean {
  const [nearest] = reading.nearest;
  if (nearest?.toLowerCase() === unit.toLowerCase()) return true;
  if (!nearest?.startsWith("deg") || !procedure) return false;
  const found = findStep(procedure, step);
  return found.ok && found.step.reads.includes("temperature");
}

/** Units in the head of a series stand on no definition's own line, so they are looked at here. */
function* seriesHeads(subject: Subject): Iterable<Report> {
  for (const { block, index } of markedLines(subject.note, "head")) {
    const syntax = block.kind === "series" ? block.content.trees[index] : undefined;
    if (syntax?.kind !== "header") continue;
    for (const column of syntax.columns) {
      const reading = column.unit ? readUnit(column.unit.text, subject.shop.units) : undefined;
      if (!column.unit || !reading || reading.ok) continue;
      const placed = block.lines[index];
      if (placed) yield unknownUnit(rangeOn(placed, column.unit.span), column.unit.text, reading);
    }
  }
}

export const page: RulePage = {
  title: "An unknown unit",
  means:
    "What stands behind a number is not a unit that is known here. `C` and `F` are charge and capacitance to a standard, so degrees are written `degC` and `degF`. Where a step asks for a pressure, one written in other words (`2½ psi`, `60 inches of water`, `20 000 Pa`) is told of as well.",
  mend: "Write one of the units offered. Trade spellings and UCUM codes are both read.",
  fix: "Writes the nearest unit.",
  source: "Units after BIPM SI Brochure, NIST SP 811 and UCUM.",
  breaks: { note: "```readings\ntest pressure: 0.8 pis\n```\n" },
  keeps: { note: "```readings\ntest pressure: 0.8 psi\n```\n" },
};
