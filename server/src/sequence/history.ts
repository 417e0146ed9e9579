import type { Step } from "../procedures/procedure.ts";
import type { Need } from "../procedures/procedure-schema.ts";
import { type Events, readEvents, type StepEvent } from "./events.ts";
import type { Grounds } from "./grounds.ts";
import type { Mark, State } from "./state.ts";
import { Telling } from "./telling.ts";
import type { Waiting } from "./waiting.ts";

/** Why a step that should have made a condition did not. */
export interface Attempt {
  readonly event: StepEvent;
  readonly why:
    | { readonly kind: "no outcome" }
    | { readonly kind: "outcome"; readonly word: string }
    | { readonly kind: "no evidence" }
    | { readonly kind: "too short"; readonly waiting: Waiting; readonly lasted: number };
}

/** A term of a need that did not hold, with what is known about it at that moment. */
export interface UnmetTerm {
  readonly name: string;
  readonly negative: boolean;
  readonly mark: Mark | undefined;
  readonly attempt: Attempt | undefined;
  /** Places at which it does hold, when the step asks for another. */
  readonly elsewhere: readonly string[];
  /** A reading or a limit of the note would show it, whenever that is written. */
  readonly shownByNote: boolean;
  /** When it comes to hold, or to be gone, by time alone; minutes. */
  readonly ready: { readonly at: number | undefined; readonly waiting: Waiting } | undefined;
}

/** A need that did not hold when its step was done. */
export interface Unmet {
  readonly event: StepEvent;
  readonly need: Need;
  readonly terms: readonly UnmetTerm[];
  /** The step that the event also counts as, whose need this is. */
  readonly countsAs: NonNullable<Step["countsAs"]> | undefined;
  /** The same step done again later, with this need met. */
  putRightBy: StepEvent | undefined;
}

/** A step that should prove something and does not. */
export interface Unproved {
  readonly event: StepEvent;
  readonly lacks: "outcome" | "evidence" | "reason";
}

/** What a job's steps came to. Which procedure it is makes no difference here. */
export interface History {
  readonly grounds: Grounds;
  readonly events: Events;
  readonly unmet: readonly Unmet[];
  readonly unproved: readonly Unproved[];
  /** Steps that counted as another one when they were done. */
  readonly counted: readonly { readonly event: StepEvent; readonly as: NonNullable<Step["countsAs"]> }[];
  /** After the last step done. */
  readonly after: State;
  /** Places at which an outcome found something, with the step that did. */
  readonly found: ReadonlyMap<string, StepEvent>;
  /** What a hand-over may not leave and a night passed over all the same, with the step of the morning after. */
  readonly overnight: readonly { readonly name: string; readonly mark: Mark; readonly morning: StepEvent }[];
  /** What was left so on purpose. */
  readonly left: readonly StepEvent[];
  /** The last step that should have made a condition and did not, by condition and place. */
  attempt(name: string, place: string | undefined): Attempt | undefined;
}

/** Reads a note's steps against its procedure. */
export function readHistory(grounds: Grounds): History {
  const events = readEvents(grounds.note, grounds.procedure);
  return new Telling(grounds, events).told();
}
