import type { Evaluated } from "../analysis/evaluation.ts";
import type { Quantity } from "../analysis/quantity.ts";
import { resolve } from "../analysis/scope.ts";
import { show } from "../analysis/showing.ts";
import { findStep } from "../procedures/procedure.ts";
import { NONE, TEMPERATURE } from "../units/dimension.ts";
import { ask } from "./ask.ts";
import { daysOfNote } from "./days.ts";
import { type Report, type Rule, type RulePage, rangeOn, type Subject } from "./rule.ts";

/** Readings taken inside the part, by their names. */
const INSIDE =
  /(?:^| )(?:inside|interior|housing|enclosure|lamp|lens|box|module|cab|cabin)(?: air)? (dew point|humidity)$/;
/** The coldest surface that the part will meet, under the names that a note may give it. */
const SURFACES = [
  "coldest surface",
  "coldest glass",
  "surface temperature",
  "glass temperature",
  "lens temperature",
];

export const rule: Rule = {
  id: "moisture/not-dry",
  severity: "warning",
  why: "Below the dew point the water in the air inside settles on the cold surface, and the droplets are back.",
  *check(subject): Iterable<Report> {
    let driedLater: ReturnType<typeof drying> | undefined;
    for (const evaluated of subject.evaluation.named(INSIDE, (key) => INSIDE.test(key))) {
      const inside = insideDewPoint(evaluated, subject);
      if (!inside) continue;
      const surface = coldestSurface(evaluated.definition.block.label, subject);
      if (!surface || inside.dewPoint.si < surface.quantity.si) continue;
      driedLater ??= drying(subject);
      if (driedLater(evaluated.definition.key)) continue;
      const { body } = evaluated.definition;
      if (body.kind !== "line") continue;
      yield {
        range: rangeOn(body.placed, evaluated.definition.nameSpan),
        message: `The air inside has its dew point at ${show(inside.dewPoint).text}, and \`${surface.name}\` is ${show(surface.quantity).text}: water will settle there.`,
        advice:
          "Dry it further, let it cool down, and read temperature and humidity inside again before it is closed.",
      };
    }
  },
};

/** The dew point of a reading taken inside: read as such, or from humidity and temperature of the same name. */
function insideDewPoint(evaluated: Evaluated, subject: Subject): { dewPoint: Quantity } | undefined {
  const { definition, result } = evaluated;
  if (result?.kind !== "quantity" || definition.body.kind !== "line") return undefined;
  if (result.dimension !== TEMPERATURE && result.dimension !== NONE) return undefined;
  const match = INSIDE.exec(definition.key);
  if (!match) return undefined;
  if (match[1] === "dew point") return result.dimension === TEMPERATURE ? { dewPoint: result } : undefined;
  const stem = definition.key.slice(0, -"humidity".length);
  const { byKey } = subject.evaluation;
  // Where the note works out the dew point itself, that line carries the finding.
  if (byKey.has(`${stem}dew point`) || !byKey.has(`${stem}temperature`)) return undefined;
  const dewPoint = ask(`dew point(${stem}temperature, ${stem}humidity)`, subject);
  return dewPoint?.kind === "quantity" ? { dewPoint } : undefined;
}

function coldestSurface(
  label: string,
  { evaluation }: Subject,
): { name: string; quantity: Quantity } | undefined {
  for (const key of SURFACES) {
    const definition = resolve(evaluation.scope, label, { key, text: key });
    const result = definition && evaluation.byKey.get(definition.key)?.result;
    if (definition && result?.kind === "quantity" && result.dimension === TEMPERATURE) {
      return { name: definition.name, quantity: result };
    }
  }
  return undefined;
}

/** Tells of a reading whether drying came, or is still to come, after it; then it does not speak of the end. */
function drying(subject: Subject): (key: string) => boolean {
  const { note, procedure, evaluation } = subject;
  const starts: number[] = [];
  let stillToDo = false;
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { syntax } of block.lines) {
      if (syntax.kind !== "step") continue;
      const found = procedure && findStep(procedure, syntax.step.text);
      if ((found?.ok ? found.step.name : syntax.step.key) !== "dry") continue;
      if (syntax.time.minutes === undefined) stillToDo = true;
      else starts.push(syntax.time.minutes);
    }
  }
  const oneDay = daysOfNote(note).length < 2;
  return (key) => {
    if (stillToDo) return true;
    const at = timeOf(evaluation.byKey.get(key), subject);
    // Over several days the time alone does not tell before from after; then the reading counts.
    return oneDay && at !== undefined && starts.some((start) => start >= at);
  };
}

/** When a reading was taken; for a dew point worked out in the note, when its temperature or humidity was. */
function timeOf(evaluated: Evaluated | undefined, { evaluation }: Subject): number | undefined {
  const definition = evaluated?.definition;
  if (definition?.body.kind !== "line") return undefined;
  const { syntax } = definition.body;
  if (syntax.kind === "measured") return syntax.at?.minutes;
  const stem = definition.key.replace(/dew point$/, "");
  for (const other of ["humidity", "temperature"]) {
    const body = evaluation.byKey.get(stem + other)?.definition.body;
    if (body?.kind === "line" && body.syntax.kind === "measured" && body.syntax.at)
      return body.syntax.at.minutes;
  }
  return undefined;
}

const note = (humidity: string) =>
  `\`\`\`readings\ninside temperature: 26.0 degC\ninside humidity: ${humidity}\ninside dew point [degC] = dew point(inside temperature, inside humidity)\ncoldest surface: 1.0 degC\n\`\`\`\n`;

export const page: RulePage = {
  title: "Not dry inside",
  means:
    "A reading taken inside the part gives a dew point at or above the coldest surface that the part will meet (`coldest surface`, `glass temperature`). Readings before a drying that comes later do not count.",
  mend: "Go on drying with the vents open, let the part cool down, and read again.",
  source: "Dew point after the ASHRAE Handbook, Fundamentals (2017), chapter 1.",
  breaks: { note: note("41.0 %") },
  keeps: { note: note("12.0 %") },
};
