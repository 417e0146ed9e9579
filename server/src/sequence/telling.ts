import { findStep, type Step } from "../procedures/procedure.ts";
import type { Condition, Need, Term } from "../procedures/procedure-schema.ts";
import { Attempts, blame } from "./blame.ts";
import { effectsOf, isProved } from "./effects.ts";
import type { Events, StepEvent } from "./events.ts";
import { isContradicted, isEvidence } from "./evidence.ts";
import type { Grounds } from "./grounds.ts";
import type { Attempt, History, Unmet, UnmetTerm, Unproved } from "./history.ts";
import { passNight, startOf, takeAtWord, termHolds } from "./passing.ts";
import type { Cause, State } from "./state.ts";
import { traitsOf } from "./traits.ts";
import { durationIn, startOfWait, waitingFor } from "./waiting.ts";

/** Goes through the steps that were done, in the order of the note. */
export class Telling {
  readonly #grounds: Grounds;
  readonly #events: Events;
  readonly #state: State;
  readonly #unmet: Unmet[] = [];
  readonly #unproved: Unproved[] = [];
  readonly #found = new Map<string, StepEvent>();
  readonly #left: StepEvent[] = [];
  readonly #overnight: History["overnight"][number][] = [];
  readonly #counted: { readonly event: StepEvent; readonly as: NonNullable<Step["countsAs"]> }[] = [];
  readonly #attempts = new Attempts();

  constructor(grounds: Grounds, events: Events) {
    this.#grounds = grounds;
    this.#events = events;
    this.#state = startOf(grounds);
  }

  told(): History {
    const { done } = this.#events;
    const met = new Map<Need, StepEvent[]>();
    done.forEach((event, i) => {
      const before = done[i - 1];
      if (before && passNight(this.#state, before, event, this.#grounds)) this.#keepOvernight(before, event);
      this.#state.now = event.at;
      this.#passTime(event.at, undefined);
      takeAtWord(this.#state, event, this.#grounds);
      this.#checkNeeds(event, met);
      this.#take(event, i);
      this.#putRight(event);
    });
    if (this.#unmet.length > 0) {
      const turn = new Map(done.map((event, i) => [event, i]));
      const isLater = (event: StepEvent, than: StepEvent) => (turn.get(event) ?? 0) > (turn.get(than) ?? 0);
      for (const one of this.#unmet) {
        // What a step says of itself, such as soap on a membrane, is done and stays so.
        if (one.terms.every((term) => term.negative && term.mark === undefined)) continue;
        one.putRightBy ??= met
          .get(one.need)
          ?.find((event) => isLater(event, one.event) && covers(event, one.event));
      }
    }
    this.#state.now = undefined;
    const attempts = this.#attempts;
    return {
      grounds: this.#grounds,
      events: this.#events,
      unmet: this.#unmet,
      unproved: this.#unproved,
      counted: this.#counted,
      after: this.#state,
      found: this.#found,
      overnight: this.#overnight,
      left: this.#left,
      attempt: (name, place) => attempts.last(name, place),
    };
  }

  /** A night hands the vehicle over to whoever comes first, whether or not somebody wrote it down. */
  #keepOvernight(before: StepEvent, morning: StepEvent): void {
    // A hand-over that was written down has its own needs checked.
    if (before.step.special === "hand over") return;
    const { procedure } = this.#grounds;
    const handOver = procedure.steps.find((step) => step.special === "hand over");
    for (const need of handOver?.needs ?? []) {
      for (const term of "all" in need ? need.all : []) {
        if (typeof term !== "string" || this.#state.anywhere(term)) continue;
        const name = procedure.conditions.get(term)?.opposite;
        if (name === undefined) continue;
        for (const { mark } of this.#state.holding(name)) this.#overnight.push({ name, mark, morning });
      }
    }
  }

  /** A job is not handed over again to mend it: what was lacking then is put right by what makes it later. */
  #putRight(by: StepEvent): void {
    for (const one of this.#unmet) {
      if (one.putRightBy || one.event === by || one.event.step.special === undefined) continue;
      if (this.#failing(one.need, one.event).length === 0) one.putRightBy = by;
    }
  }

  #checkNeed(need: Need, event: StepEvent, countsAs: Unmet["countsAs"], met: Map<Need, StepEvent[]>): void {
    const terms = this.#failing(need, event);
    if (terms.length > 0) this.#unmet.push({ event, need, terms, countsAs, putRightBy: undefined });
    else noteMet(need, event, met);
  }

  #checkNeeds(event: StepEvent, met: Map<Need, StepEvent[]>): void {
    for (const need of event.step.needs) this.#checkNeed(need, event, undefined, met);
    const { countsAs } = event.step;
    const other = countsAs && findStep(this.#grounds.procedure, countsAs.step);
    if (!countsAs || !other?.ok) return;
    if (this.#state.holds(countsAs.while, undefined)) {
      this.#counted.push({ event, as: countsAs });
      for (const need of other.step.needs) this.#checkNeed(need, event, countsAs, met);
    } else {
      // Done in a way in which it does not count as that other step, it asks for nothing of it.
      for (const need of other.step.needs) noteMet(need, event, met);
    }
  }

  /** The terms to blame; none where the need is met. */
  #failing(need: Need, event: StepEvent): readonly UnmetTerm[] {
    if ("all" in need) {
      let failing: UnmetTerm[] | undefined;
      for (const term of need.all) {
        if (this.#holds(term, event)) continue;
        failing ??= [];
        failing.push(this.#blame(term, event));
      }
      return failing ?? NONE_FAILING;
    }
    for (const term of need.anyOf) if (this.#holds(term, event)) return NONE_FAILING;
    return need.anyOf.map((term) => this.#blame(term, event));
  }

  #holds(term: Term, event: StepEvent): boolean {
    return termHolds(term, event, this.#state, this.#grounds, this.#events.done);
  }

  #blame(term: Term, event: StepEvent): UnmetTerm {
    return blame(term, event, this.#state, this.#grounds, this.#attempts);
  }

  /** Turns what needed time into what it has become by then. */
  #passTime(now: number | undefined, by: StepEvent | undefined): void {
    if (now === undefined) return;
    for (const { name, takes } of traitsOf(this.#grounds.procedure).timed) {
      if (!this.#state.anywhere(takes.since)) continue;
      for (const { place, mark } of this.#state.holding(takes.since)) {
        if (mark.cause.kind !== "step") continue;
        const since = mark.cause.event;
        const from = startOfWait(since);
        const { minutes } = waitingFor(takes, [since.remark], this.#grounds);
        if (from === undefined || now - from < minutes) continue;
        this.#state.make(name, place, by ? { kind: "step", event: by } : { kind: "time", event: since });
        this.#state.undo(takes.since, place, { kind: "time", event: since });
      }
    }
  }

  #take(event: StepEvent, turn: number): void {
    const { step, place } = event;
    const next = this.#events.done[turn + 1];
    if (step.special === "leave") {
      if (event.remark === "") this.#unproved.push({ event, lacks: "reason" });
      else this.#left.push(event);
      return;
    }
    const proved = isProved(step, event.outcome);
    if (step.outcome && event.outcome === undefined) this.#unproved.push({ event, lacks: "outcome" });
    const shown = this.#isShown(event, turn);
    if (!shown) this.#unproved.push({ event, lacks: "evidence" });
    const believed =
      proved && (shown || (step.evidence?.missing === "warning" && !isDenied(event, this.#grounds)));
    const { makes, undoes } = effectsOf(step, event.outcome, believed);
    const cause: Cause = { kind: "step", event };
    for (const name of undoes) if (!this.#isKept(name, step)) this.#state.undo(name, place, cause);
    for (const name of makes) this.#make(name, event, next, cause);
    if (!believed) this.#noteAttempts(event, proved);
    if (
      step.outcome &&
      proved &&
      place !== undefined &&
      step.makes.some((name) => this.#state.perPlace(name))
    ) {
      this.#found.set(place, event);
    }
  }

  /** What starts the clock of something that the step makes stays until that time is over. */
  #isKept(name: string, { makes }: Step): boolean {
    for (const made of makes) if (this.#takes(made)?.since === name) return true;
    return false;
  }

  #takes(name: string): Condition["takes"] {
    return this.#grounds.procedure.conditions.get(name)?.takes;
  }

  #make(name: string, event: StepEvent, next: StepEvent | undefined, cause: Cause): void {
    const takes = this.#takes(name);
    if (takes?.since !== undefined && this.#state.holds(name, event.place)) return;
    if (takes?.since !== undefined && this.#isWaitedFor(takes.since, event.place)) {
      this.#passTime(event.until ?? event.at, event);
      if (!this.#state.holds(name, event.place)) this.#noteShort(name, event, takes.since);
      return;
    }
    if (takes && takes.since === undefined) {
      const waiting = waitingFor(takes, [event.remark], this.#grounds);
      // A wait that goes on still has not come to its end.
      const lasted = event.at === undefined ? undefined : (lastedFor(event, next, this.#grounds) ?? 0);
      if (lasted !== undefined && lasted < waiting.minutes) {
        this.#attempts.note(name, event.place, { event, why: { kind: "too short", waiting, lasted } });
        return;
      }
    }
    this.#state.make(name, event.place, cause, event.step.time ? event.until : undefined);
  }

  /** Whether time is running since some step that is known, so that the clock decides and not the line. */
  #isWaitedFor(since: string, place: string | undefined): boolean {
    for (const one of this.#state.holding(since)) {
      if (place !== undefined && one.place !== undefined && one.place !== place) continue;
      if (one.mark.cause.kind === "step" && startOfWait(one.mark.cause.event) !== undefined) return true;
    }
    return false;
  }

  #noteShort(name: string, event: StepEvent, since: string): void {
    const mark = this.#state.mark(since, event.place);
    const takes = this.#takes(name);
    if (!takes || mark?.cause.kind !== "step") return;
    const from = startOfWait(mark.cause.event) ?? 0;
    const waiting = waitingFor(takes, [mark.cause.event.remark], this.#grounds);
    const lasted = (event.until ?? event.at ?? from) - from;
    this.#attempts.note(name, event.place, { event, why: { kind: "too short", waiting, lasted } });
  }

  #isShown(event: StepEvent, turn: number): boolean {
    const { evidence } = event.step;
    if (!evidence) return true;
    const later = () => this.#after(turn);
    for (const one of evidence.anyOf) if (isEvidence(one, event, later, this.#grounds)) return true;
    return false;
  }

  *#after(turn: number): Iterable<StepEvent> {
    const { done, planned } = this.#events;
    for (let i = turn + 1; i < done.length; i++) yield done[i] as StepEvent;
    yield* planned;
  }

  #noteAttempts(event: StepEvent, proved: boolean): void {
    const why: Attempt["why"] = proved
      ? { kind: "no evidence" }
      : event.outcome === undefined
        ? { kind: "no outcome" }
        : { kind: "outcome", word: event.outcome };
    const attempt: Attempt = { event, why };
    for (const name of event.step.makes) {
      const place = this.#state.perPlace(name) ? event.place : undefined;
      this.#attempts.note(name, place, attempt);
    }
  }
}

const NONE_FAILING: readonly UnmetTerm[] = [];

function noteMet(need: Need, event: StepEvent, met: Map<Need, StepEvent[]>): void {
  const list = met.get(need);
  if (list) list.push(event);
  else met.set(need, [event]);
}

/** Whether the remark speaks against what the step should show and nothing speaks for it. */
const isDenied = (event: StepEvent, grounds: Grounds): boolean =>
  event.step.evidence?.anyOf.some((one) => isContradicted(one, event, grounds)) ?? false;

const covers = (later: StepEvent, earlier: StepEvent): boolean =>
  later.step === earlier.step && (later.place === undefined || later.place === earlier.place);

function lastedFor(event: StepEvent, next: StepEvent | undefined, grounds: Grounds): number | undefined {
  const { at, until } = event;
  if (at === undefined) return undefined;
  if (until !== undefined) return until - at;
  const said = durationIn(event, grounds);
  if (said !== undefined) return said;
  return next?.at === undefined ? undefined : next.at - at;
}
