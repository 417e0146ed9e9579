import type { Term } from "../procedures/procedure-schema.ts";
import type { StepEvent } from "./events.ts";
import type { Grounds } from "./grounds.ts";
import type { Attempt, UnmetTerm } from "./history.ts";
import type { Mark, State } from "./state.ts";
import { traitsOf } from "./traits.ts";
import { startOfWait, waitingFor } from "./waiting.ts";

/** The last steps that should have made a condition and did not, by condition and place. */
export class Attempts {
  readonly #byName = new Map<string, Map<string | undefined, Attempt>>();

  note(name: string, place: string | undefined, attempt: Attempt): void {
    const places = this.#byName.get(name);
    if (places) places.set(place, attempt);
    else this.#byName.set(name, new Map([[place, attempt]]));
  }

  /** At that place, else for the whole part. */
  last(name: string, place: string | undefined): Attempt | undefined {
    const places = this.#byName.get(name);
    return places?.get(place) ?? places?.get(undefined);
  }
}

/** What is known, at the moment of an event, of a term that does not hold. */
export function blame(
  term: Term,
  event: StepEvent,
  state: State,
  grounds: Grounds,
  attempts: Attempts,
): UnmetTerm {
  const negative = typeof term !== "string";
  const name = negative ? term.not : term;
  const place = state.perPlace(name) ? event.place : undefined;
  if (negative) {
    const at = place ?? state.holding(name)[0]?.place;
    const mark = state.mark(name, at);
    const ready = readyOnceGone(name, mark, grounds);
    return { name, negative, mark, attempt: undefined, elsewhere: [], shownByNote: false, ready };
  }
  const { takes, shownBy } = grounds.procedure.conditions.get(name) ?? {};
  const since = takes?.since === undefined ? undefined : state.mark(takes.since, place);
  return {
    name,
    negative,
    mark: state.mark(name, place),
    attempt: attempts.last(name, place),
    elsewhere: place === undefined ? [] : state.holding(name).flatMap((one) => one.place ?? []),
    shownByNote: shownBy?.some((one) => "limit" in one || "reading" in one) ?? false,
    ready:
      takes?.since !== undefined && since?.holds ? readyOnceGone(takes.since, since, grounds) : undefined,
  };
}

/** When a condition that time ends will be gone. */
function readyOnceGone(name: string, mark: Mark | undefined, grounds: Grounds): UnmetTerm["ready"] {
  if (!mark?.holds || mark.cause.kind !== "step") return undefined;
  const timed = traitsOf(grounds.procedure).timed.find(({ takes }) => takes.since === name);
  if (!timed) return undefined;
  const waiting = waitingFor(timed.takes, [mark.cause.event.remark], grounds);
  const from = startOfWait(mark.cause.event);
  return { at: from === undefined ? undefined : from + waiting.minutes, waiting };
}
