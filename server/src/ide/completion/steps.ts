import { historyOfAnalysis } from "../../check/analyze.ts";
import { readClock, skipBlanks } from "../../language/scanner.ts";
import { findStep, type Procedure, type Step } from "../../procedures/procedure.ts";
import type { History } from "../../sequence/history.ts";
import { failingTerms } from "../../sequence/planned.ts";
import { procedureOf } from "../look-up.ts";
import { formulaPlace } from "./formula-place.ts";
import { type Completion, type LinePlace, typedFrom } from "./place.ts";
import { fittingOf, unitCompletions } from "./units.ts";

/** A unit for each kind of quantity that a step's remark may be asked for. */
const USUAL_UNITS: Readonly<Record<NonNullable<Step["reads"]>[number], string>> = {
  pressure: "kPa",
  temperature: "degC",
  current: "A",
  voltage: "V",
  resistance: "Ω",
  time: "min",
  volume: "L",
  flow: "L/min",
  length: "mm",
  mass: "g",
  share: "%",
};

export function completeStep(place: LinePlace): Completion[] {
  const { before } = place;
  const start = skipBlanks(before, 0);
  if (start >= before.length || /^[-:]+$/.test(before.slice(start))) return [stillToDo(place, start)];
  const time = readClock(before, start);
  if (!time) return [];
  const from = skipBlanks(before, time.span.to);
  if (from === time.span.to) return [];

  const procedure = procedureOf(place.analysis.note, place.shop);
  const rest = before.slice(from);
  const sign = rest.search(/[[:]/);
  if (sign < 0) return procedure ? steps(place, procedure, from) : [];
  const found = procedure ? findStep(procedure, rest.slice(0, sign).trim()) : undefined;
  const step = found?.ok ? found.step : undefined;
  const bracket = rest[sign] === "[" ? rest.indexOf("]", sign) : sign;
  if (bracket < 0) return places(place, skipBlanks(before, from + sign + 1));
  const colon = rest.indexOf(":", bracket);
  return colon < 0 || !step ? [] : remark(place, step, from + colon + 1);
}

function stillToDo(place: LinePlace, from: number): Completion {
  return {
    label: "--:--",
    kind: "word",
    text: "--:--  ",
    replaces: typedFrom(place, from),
    detail: "a step still to do",
  };
}

/** Steps by their own names, those first whose turn it is, then the other names that they go by. */
function steps(place: LinePlace, procedure: Procedure, from: number): Completion[] {
  const replaces = typedFrom(place, from);
  const usual = procedure.usual.flatMap((name) => procedure.steps.filter((step) => step.name === name));
  const ordered = byTurn([...new Set([...usual, ...procedure.steps])], historyOfAnalysis(place.analysis));
  const item = (step: Step, words: string): Completion => ({
    label: words,
    kind: "step",
    text: step.outcome ? `${words}: ` : words,
    replaces,
    ...(words === step.name ? {} : { detail: step.name }),
    about: step.name,
  });
  return [
    ...ordered.map((step) => item(step, step.name)),
    ...ordered.flatMap((step) => step.aliases.map((alias) => item(step, alias))),
  ];
}

/**
 * What may be done now and brings something new, then what may be done again, then what may not be done yet;
 * otherwise in the order of a usual job.
 */
function byTurn(steps: readonly Step[], history: History | undefined): readonly Step[] {
  if (!history) return steps;
  const { after, grounds } = history;
  const turn = (step: Step): number => {
    const may = step.needs.every((need) => failingTerms(need, undefined, after, grounds).length === 0);
    if (!may) return 2;
    return step.makes.some((condition) => !after.anywhere(condition)) ? 0 : 1;
  };
  const turns = new Map(steps.map((step) => [step, turn(step)]));
  return [...steps].sort((a, b) => (turns.get(a) ?? 0) - (turns.get(b) ?? 0));
}

/** Places that other steps of the note name. */
function places(place: LinePlace, from: number): Completion[] {
  const known = new Map<string, string>();
  for (const block of place.analysis.note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { syntax, offset } of block.lines) {
      if (syntax.kind !== "step" || !syntax.place || offset === place.start) continue;
      known.set(syntax.place.key, syntax.place.text);
    }
  }
  return [...known.values()].map((text) => ({
    label: text,
    kind: "place",
    text,
    replaces: typedFrom(place, from),
  }));
}

function remark(place: LinePlace, step: Step, from: number): Completion[] {
  const { before } = place;
  const start = skipBlanks(before, from);
  if (step.outcome && /^[a-z]*$/i.test(before.slice(start))) {
    // The kind of outcome is its words: "pass or fail".
    return step.outcome.split(/, | or /).map((word) => ({
      label: word,
      kind: "outcome",
      text: word,
      replaces: typedFrom(place, start),
    }));
  }
  const asked = step.reads[0];
  const number = /\d[\d.]*[ \t]*[^\s\d,;]*$/.exec(before.slice(start));
  if (!number || !asked) return [];
  const at = formulaPlace(before, start + number.index);
  return at.at === "unit"
    ? unitCompletions(typedFrom(place, at.from), fittingOf(USUAL_UNITS[asked], undefined), place.shop.units)
    : [];
}
