import type { Procedure } from "../procedures/procedure.ts";
import type { StepEvent } from "./events.ts";
import { traitsOf } from "./traits.ts";

/** What made a condition hold, or undid it. */
export type Cause =
  | { readonly kind: "start" }
  /** The note's own words, in its subject or in a remark. */
  | { readonly kind: "said"; readonly event: StepEvent | undefined }
  | { readonly kind: "step"; readonly event: StepEvent }
  /** The night before this event. */
  | { readonly kind: "night"; readonly event: StepEvent }
  /** Time alone, since this event. */
  | { readonly kind: "time"; readonly event: StepEvent };

export interface Mark {
  readonly holds: boolean;
  readonly cause: Cause;
  /** Minutes; it holds only from here on, since the step that made it went on until then. */
  readonly from?: number | undefined;
  /** What made it hold before it was undone. */
  readonly before?: Cause | undefined;
}

/** A condition that holds, at a place or for the whole part. */
export interface Held {
  readonly place: string | undefined;
  readonly mark: Mark;
}

const NOTHING_HELD: readonly Held[] = [];

interface Slot {
  /** Without a place, or everywhere. */
  whole: Mark | undefined;
  /** By place, where one was named since. */
  readonly places: Map<string, Mark>;
}

/**
 * Which conditions hold at one moment of a job, and through what. Conditions that are kept per place have a
 * mark for the whole part and marks for single places that differ from it.
 */
export class State {
  readonly #procedure: Procedure;
  readonly #slots: Map<string, Slot>;
  /** The moment asked about; undefined where no time is known, as for steps still to do. */
  now: number | undefined;

  constructor(procedure: Procedure, slots?: Map<string, Slot>) {
    this.#procedure = procedure;
    this.#slots = slots ?? new Map();
    if (slots) return;
    for (const name of procedure.start)
      this.#slots.set(name, { whole: { holds: true, cause: { kind: "start" } }, places: new Map() });
  }

  clone(): State {
    const slots = new Map<string, Slot>();
    for (const [name, { whole, places }] of this.#slots) slots.set(name, { whole, places: new Map(places) });
    const copy = new State(this.#procedure, slots);
    copy.now = this.now;
    return copy;
  }

  perPlace(name: string): boolean {
    return this.#procedure.conditions.get(name)?.perPlace === true;
  }

  #atAnyPlace(name: string): boolean {
    return this.#procedure.conditions.get(name)?.atAnyPlace === true;
  }

  make(name: string, place: string | undefined, cause: Cause, from?: number): void {
    const opposite = this.#procedure.conditions.get(name)?.opposite;
    if (opposite !== undefined) this.undo(opposite, place, cause);
    // What is made anew has to take its time anew.
    for (const other of traitsOf(this.#procedure).startedBy.get(name) ?? []) this.undo(other, place, cause);
    this.#set(name, place, { holds: true, cause, from });
  }

  undo(name: string, place: string | undefined, cause: Cause): void {
    const slot = this.#slots.get(name);
    const gone = (mark: Mark | undefined): Mark =>
      mark && !mark.holds ? mark : { holds: false, cause, before: mark?.cause };
    if (this.perPlace(name) && place === undefined && slot) {
      for (const [at, mark] of slot.places) slot.places.set(at, gone(mark));
      slot.whole = gone(slot.whole);
      return;
    }
    // Made without a place and undone at one, it was about that place.
    if (this.#atAnyPlace(name) && place !== undefined && slot?.whole && !slot.places.has(place)) {
      slot.whole = gone(slot.whole);
    }
    this.#set(name, place, gone(this.mark(name, place)));
  }

  #set(name: string, place: string | undefined, mark: Mark): void {
    const slot = this.#slots.get(name) ?? { whole: undefined, places: new Map<string, Mark>() };
    this.#slots.set(name, slot);
    if (this.perPlace(name) && place !== undefined) slot.places.set(place, mark);
    else {
      slot.whole = mark;
      slot.places.clear();
    }
  }

  /** What is known of a condition at a place, or of the whole part. */
  mark(name: string, place: string | undefined): Mark | undefined {
    const slot = this.#slots.get(name);
    if (!slot) return undefined;
    return (place === undefined ? undefined : slot.places.get(place)) ?? slot.whole;
  }

  /** Marks of a condition that hold now, each with its place. */
  holding(name: string): readonly Held[] {
    const slot = this.#slots.get(name);
    if (!slot) return NOTHING_HELD;
    const whole = this.#counts(slot.whole) ? slot.whole : undefined;
    if (slot.places.size === 0) return whole ? [{ place: undefined, mark: whole }] : NOTHING_HELD;
    const held: Held[] = whole ? [{ place: undefined, mark: whole }] : [];
    for (const [place, mark] of slot.places) if (this.#counts(mark)) held.push({ place, mark });
    return held;
  }

  #counts(mark: Mark | undefined): mark is Mark {
    if (!mark?.holds) return false;
    return mark.from === undefined || this.now === undefined || this.now >= mark.from;
  }

  /** Whether it holds anywhere. What must not hold may hold nowhere. */
  anywhere(name: string): boolean {
    const slot = this.#slots.get(name);
    if (!slot) return false;
    if (this.#counts(slot.whole)) return true;
    if (slot.places.size === 0) return false;
    for (const mark of slot.places.values()) if (this.#counts(mark)) return true;
    return false;
  }

  /**
   * Whether it holds for a step at a place. A step that names none is about the whole part: there it must hold
   * somewhere, and save for what is asked for at any place only, may be undone nowhere.
   */
  holds(name: string, place: string | undefined): boolean {
    if (!this.perPlace(name) || place !== undefined) return this.#counts(this.mark(name, place));
    if (!this.anywhere(name)) return false;
    if (this.#atAnyPlace(name)) return true;
    const places = this.#slots.get(name)?.places;
    if (places && places.size > 0) for (const mark of places.values()) if (!this.#counts(mark)) return false;
    const since = this.#procedure.conditions.get(name)?.takes?.since;
    return since === undefined || !this.anywhere(since);
  }

  /** Places at which anything is known of a condition. */
  places(name: string): Iterable<string> {
    return this.#slots.get(name)?.places.keys() ?? [];
  }

  names(): Iterable<string> {
    return this.#slots.keys();
  }
}
