import type { JobOutcome, Step } from "../procedures/procedure.ts";
import type { Need, Term } from "../procedures/procedure-schema.ts";
import { effectsOf, endNames, hopedFor, isProved, makeable } from "./effects.ts";
import type { StepEvent } from "./events.ts";
import type { Grounds } from "./grounds.ts";
import type { History } from "./history.ts";
import { passNight, takeAtWord, termHolds } from "./passing.ts";
import type { Cause, State } from "./state.ts";
import { lostWhileWaiting } from "./waiting.ts";

/** A step still to do whose needs would not hold when its turn comes. */
export interface Blocked {
  readonly event: StepEvent;
  readonly need: Need;
  readonly terms: readonly Term[];
}

export interface Planned {
  /** After the steps still to do that could be done. */
  readonly state: State;
  readonly blocked: readonly Blocked[];
}

/** The outcome that an open job is taken to come to, where its front matter does not say. */
export function outcomeAimedAt({ grounds }: History): JobOutcome {
  return grounds.note.frontMatter.fields.outcome ?? "repaired";
}

/** Goes through the steps still to do, each turning out as it should. */
export function playPlanned(history: History, outcome: JobOutcome): Planned {
  const { grounds, events } = history;
  const state = history.after.clone();
  const end = new Set(endNames(grounds.procedure.end[outcome]));
  const blocked: Blocked[] = [];
  let before: Pick<StepEvent, "day" | "at"> | undefined = events.done.at(-1);
  for (const event of events.planned) {
    before = nextMorning(state, before, event, grounds);
    takeAtWord(state, event, grounds);
    const failing = firstFailing(event, state, grounds);
    if (failing) {
      blocked.push({ event, ...failing });
      continue;
    }
    const { step, place } = event;
    const word = event.outcome ?? hopedFor(step, end);
    playStep(step, place, word, state, { kind: "step", event }, grounds);
  }
  return { state, blocked };
}

/**
 * Passes the night before a step still to do. One that stands above the last step done will be done after it,
 * so that its day is the later of the two.
 */
export function nextMorning(
  state: State,
  before: Pick<StepEvent, "day" | "at"> | undefined,
  event: StepEvent,
  grounds: Grounds,
): Pick<StepEvent, "day" | "at"> {
  if (!before) return event;
  passNight(state, before, event, grounds);
  const earlier = event.day === undefined || (before.day !== undefined && before.day > event.day);
  return earlier ? before : { day: event.day, at: undefined };
}

/** Takes a step as done, in the way that is hoped for. */
export function playStep(
  step: Step,
  place: string | undefined,
  word: string | undefined,
  state: State,
  cause: Cause,
  grounds: Grounds,
): void {
  if (step.special) return;
  const { makes, undoes } = effectsOf(step, word, isProved(step, word));
  for (const name of [...lostWhileWaiting(step, grounds), ...undoes]) state.undo(name, place, cause);
  for (const name of makes) state.make(name, place, cause);
}

function firstFailing(event: StepEvent, state: State, grounds: Grounds): Omit<Blocked, "event"> | undefined {
  for (const need of event.step.needs) {
    const terms = failingTerms(need, event.place, state, grounds, event);
    if (terms.length > 0) return { need, terms };
  }
  return undefined;
}

/**
 * Terms that keep a step from being done now. What only a remark or a reading can show counts as shown: it
 * is written down when the step is done. Where a step can make it, words are not taken for granted.
 */
export function failingTerms(
  need: Need,
  place: string | undefined,
  state: State,
  grounds: Grounds,
  event?: StepEvent,
): readonly Term[] {
  const holds = (term: Term): boolean => {
    if (event) return termHolds(term, event, state, grounds, []);
    if (typeof term === "string") return state.holds(term, place);
    return place === undefined ? !state.anywhere(term.not) : !state.holds(term.not, place);
  };
  if ("all" in need) return need.all.filter((term) => !holds(term) && !isGivenOnly(term, grounds));
  if (need.anyOf.some(holds)) return [];
  const others = need.anyOf.filter((term) => !isGivenOnly(term, grounds));
  return others;
}

/** Whether only words, readings or limits can show it, since no step makes it. */
export function isGivenOnly(term: Term, { procedure }: Grounds): boolean {
  if (typeof term !== "string" || makeable(procedure).has(term)) return false;
  return procedure.conditions.get(term)?.shownBy !== undefined;
}
