import type { Condition, Term } from "../procedures/procedure-schema.ts";
import type { StepEvent } from "./events.ts";
import { isEvidence, saysOfItself } from "./evidence.ts";
import type { Grounds } from "./grounds.ts";
import { State } from "./state.ts";
import { traitsOf } from "./traits.ts";
import { saysOneOf } from "./words.ts";

/** Two steps on different days with fewer minutes between them are one night shift. Common practice, no source. */
const NIGHT = 6 * 60;

/** What holds before anything was done, with what the note's subject says. */
export function startOf(grounds: Grounds): State {
  const state = new State(grounds.procedure);
  const subject = grounds.note.frontMatter.fields.subject ?? "";
  for (const [name, words] of traitsOf(grounds.procedure).lastingWords) {
    if (saysOneOf(subject, words)) state.make(name, undefined, { kind: "said", event: undefined });
  }
  return state;
}

/** Takes the remark's word for what it says, from here on. */
export function takeAtWord(state: State, event: StepEvent, grounds: Grounds): void {
  if (event.remark === "") return;
  for (const [name, words] of traitsOf(grounds.procedure).lastingWords) {
    if (!state.holds(name, undefined) && saysOneOf(event.remark, words)) {
      state.make(name, undefined, { kind: "said", event });
    }
  }
}

/** A new day undoes what nobody can take for granted in the morning. */
export function passNight(
  state: State,
  before: Pick<StepEvent, "day" | "at">,
  event: StepEvent,
  grounds: Grounds,
): boolean {
  if (event.day === undefined || before.day === undefined || event.day <= before.day) return false;
  if (event.at !== undefined && before.at !== undefined && event.at - before.at < NIGHT) return false;
  for (const name of traitsOf(grounds.procedure).lostOvernight) {
    for (const { place } of state.holding(name)) state.undo(name, place, { kind: "night", event });
  }
  return true;
}

/** Found only when somebody asks, since most evidence stands in the event itself. */
function* eventsAfter(event: StepEvent, done: readonly StepEvent[]): Iterable<StepEvent> {
  for (let i = done.indexOf(event) + 1; i < done.length; i++) yield done[i] as StepEvent;
}

/** Whether a term of a need holds for an event. */
export function termHolds(
  term: Term,
  event: StepEvent,
  state: State,
  grounds: Grounds,
  done: readonly StepEvent[],
): boolean {
  const negative = typeof term !== "string";
  const name = negative ? term.not : term;
  const shownBy = grounds.procedure.conditions.get(name)?.shownBy;
  if (negative) {
    const holds = event.place === undefined ? state.anywhere(name) : state.holds(name, event.place);
    return !holds && !saysOfItself(shownBy, event);
  }
  if (state.holds(name, event.place)) return true;
  if (!shownBy) return false;
  const later = () => eventsAfter(event, done);
  for (const one of shownBy) if (isEvidence(one, event, later, grounds)) return true;
  return isShownByTestBefore(shownBy, event, done);
}

/** A leak that is looked for right after a water test is looked for under its water, however the test ended. */
function isShownByTestBefore(
  shownBy: NonNullable<Condition["shownBy"]>,
  event: StepEvent,
  done: readonly StepEvent[],
): boolean {
  if (event.step.outcome === undefined) return false;
  const before = done[done.indexOf(event) - 1];
  if (before?.step.outcome === undefined || before.day !== event.day) return false;
  return shownBy.some((one) => "words" in one && saysOneOf(before.step.name, one.words));
}
