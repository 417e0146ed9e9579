import type { JobOutcome, Step } from "../procedures/procedure.ts";
import type { EndTerm, Need, Term } from "../procedures/procedure-schema.ts";
import { effectsOf, endNames, hopedFor, isProved } from "./effects.ts";
import { leftOnPurpose, placesFor } from "./end.ts";
import { readingsNamed } from "./grounds.ts";
import type { History } from "./history.ts";
import {
  AGAIN,
  againLiteral,
  type Choice,
  type Draft,
  inTurn,
  keyOf,
  type Literal,
  namesIn,
  product,
  relevant,
  type StepAt,
  shownLiteral,
  shownName,
  UNTOUCHED,
  untouched,
} from "./literals.ts";
import { isGivenOnly } from "./planned.ts";
import type { State } from "./state.ts";
import type { Move, Problem } from "./strips.ts";
import { lostWhileWaiting } from "./waiting.ts";

/** Each choice doubles the ways to the end; a note with more places than that is asked for fewer of them. */
const MOST_CHOICES = 5;

/** The cost of one step. */
const STEP_COST = 1000;
/** What failed last time is not hoped to pass by itself where something else does it as well. */
const FAILED_COST = STEP_COST + 1;
/** A step that the note has among those still to do only moves forward. */
const PLANNED_COST = 10;

export interface Wanted {
  readonly history: History;
  readonly state: State;
  readonly outcome: JobOutcome;
  /** A step to make possible; without it, the end of the job. */
  readonly target?: StepAt | undefined;
  /** Steps that the note has among those still to do. */
  readonly planned: readonly StepAt[];
  /** Steps that were done before their time and have to be done again. */
  readonly again: readonly StepAt[];
}

export function makeProblem(wanted: Wanted): Problem {
  return new Builder(wanted).problem();
}

class Builder {
  readonly #wanted: Wanted;
  readonly #places: readonly (string | undefined)[];
  readonly #end: ReadonlySet<string>;
  readonly #facts = new Map<string, number>();
  readonly #start: number[] = [];
  /** Steps whose work counts only once another step has shown it, as drying does with a look inside. */
  readonly #shownLater: ReadonlyMap<Step, { readonly step: string; readonly outcome: string }>;

  constructor(wanted: Wanted) {
    this.#wanted = wanted;
    this.#end = new Set(endNames(this.#procedure.end[wanted.outcome]));
    this.#places = this.#placesOfWork();
    this.#shownLater = this.#stepsShownLater();
  }

  get #procedure() {
    return this.#wanted.history.grounds.procedure;
  }

  problem(): Problem {
    const { target } = this.#wanted;
    const drafts = this.#procedure.steps.flatMap((step) => this.#draftsOf(step));
    const goals = product(target ? this.#needsOf(target.step, target.place) : this.#endChoices());
    const useful = relevant(drafts, goals);
    // Facts are numbered by what moves and the goal ask for; nothing else matters.
    const moves = useful.map(({ draft, needs }) => ({ draft, needs: needs.map((one) => this.#fact(one)) }));
    const goalNeeds = goals.map((one) => one.map((literal) => this.#fact(literal)));
    const goal = this.#facts.size;
    return {
      facts: goal + 1,
      start: this.#start,
      goal,
      moves: [
        ...inTurn(moves, this.#procedure).map(({ draft, needs }): Move => {
          const after = draft.effects.flatMap((literal) => this.#known(literal) ?? []);
          const gone = draft.effects.flatMap((one) => this.#known({ ...one, holds: !one.holds }) ?? []);
          return {
            step: draft.step,
            place: draft.place,
            needs,
            adds: after,
            removes: gone,
            cost: this.#costOf(draft.step, draft.place),
          };
        }),
        ...goalNeeds.map(
          (needs): Move => ({
            step: undefined,
            place: undefined,
            needs,
            adds: [goal],
            removes: [],
            cost: 0,
          }),
        ),
      ],
    };
  }

  #costOf(step: Step, place: string | undefined): number {
    if (this.#wanted.planned.some((one) => one.step === step && one.place === place)) return PLANNED_COST;
    return this.#failedLast(step, place) ? FAILED_COST : STEP_COST;
  }

  #failedLast(step: Step, place: string | undefined): boolean {
    if (step.outcome === undefined) return false;
    const last = this.#wanted.history.events.done.findLast((one) => one.step === step && one.place === place);
    return last?.outcome !== undefined && !isProved(step, last.outcome);
  }

  /** The number of a literal; new ones are numbered, with whether they hold at the start. */
  #fact(literal: Literal): number {
    const key = keyOf(literal);
    const known = this.#facts.get(key);
    if (known !== undefined) return known;
    const made = this.#facts.size;
    this.#facts.set(key, made);
    if (this.#holdsAtStart(literal)) this.#start.push(made);
    return made;
  }

  #known(literal: Literal): number | undefined {
    return this.#facts.get(keyOf(literal));
  }

  #holdsAtStart({ name, place, holds }: Literal): boolean {
    const { state, history } = this.#wanted;
    if (name.startsWith(AGAIN)) return false;
    if (name.startsWith(UNTOUCHED)) return true;
    const later = [...this.#shownLater.keys()].find((step) => shownName(step) === name);
    if (later) {
      return !history.unproved.some((one) => one.lacks === "evidence" && one.event.step === later);
    }
    if (place === undefined && this.#places.length > 1 && state.perPlace(name)) {
      // Beside single places, no place stands for the rest of the part.
      return (state.mark(name, undefined)?.holds ?? false) === holds;
    }
    return holds
      ? state.holds(name, place)
      : place === undefined
        ? !state.anywhere(name)
        : !state.holds(name, place);
  }

  /** Places that the job still has to do with; a single `undefined` for the part as a whole. */
  #placesOfWork(): readonly (string | undefined)[] {
    const { history, state } = this.#wanted;
    const places = new Set<string | undefined>();
    for (const name of this.#end) for (const place of placesFor(name, history, state)) places.add(place);
    for (const [name, { perPlace, takes }] of this.#procedure.conditions) {
      if (perPlace) for (const place of state.places(name)) places.add(place);
      if (takes?.since === undefined) continue;
      for (const { place } of state.holding(takes.since)) places.add(place);
    }
    const { target, again } = this.#wanted;
    for (const one of [...(target ? [target] : []), ...again]) {
      if (one.place !== undefined) places.add(one.place);
    }
    places.delete(undefined);
    return [...places, undefined];
  }

  #stepsShownLater(): Map<Step, { readonly step: string; readonly outcome: string }> {
    const { grounds } = this.#wanted.history;
    const found = new Map<Step, { readonly step: string; readonly outcome: string }>();
    for (const step of this.#procedure.steps) {
      const { evidence } = step;
      if (!evidence) continue;
      const taken = evidence.anyOf.some(
        (one) => "reading" in one && readingsNamed(one.reading, grounds).length > 0,
      );
      const later = evidence.anyOf.find((one) => "step" in one);
      if (!taken && later) found.set(step, later);
    }
    return found;
  }

  #perPlace(name: string): boolean {
    return this.#wanted.state.perPlace(name);
  }

  /** What a step at a place changes; everywhere when it names none. */
  #literals(name: string, place: string | undefined, holds: boolean): readonly Literal[] {
    if (!this.#perPlace(name)) return [{ name, place: undefined, holds }];
    const places = place === undefined ? this.#places : [place];
    return places.map((one) => ({ name, place: one, holds }));
  }

  /** What a step at a place needs. One that names none needs it at each place, and what must not be nowhere. */
  #needed(name: string, place: string | undefined, holds: boolean): Choice {
    const all = this.#literals(name, place, holds);
    if (!holds || all.length < 2) return [all];
    if (this.#procedure.conditions.get(name)?.atAnyPlace) return all.map((literal) => [literal]);
    return [all.filter((literal) => literal.place !== undefined)];
  }

  #draftsOf(step: Step): readonly Draft[] {
    if (step.special || !this.#isOffered(step)) return [];
    const word = hopedFor(step, this.#end);
    const { makes, undoes } = effectsOf(step, word, isProved(step, word));
    const touched = [...makes, ...undoes, ...step.needs.flatMap((need) => namesIn(need))];
    const apart = step.perPlace && touched.some((name) => this.#perPlace(name));
    // Beside a line for each place stands one without a place, which is about all of them.
    const places = apart ? this.#places : [undefined];
    return places.map((place) => ({
      step,
      place,
      needs: product(this.#needsOf(step, place)),
      effects: this.#effects(step, place, word, makes, undoes),
    }));
  }

  /** A step that is only for other outcomes is left to whoever has planned it, or has to do it again. */
  #isOffered(step: Step): boolean {
    const { outcome, planned, again } = this.#wanted;
    if (!step.onlyFor || step.onlyFor.includes(outcome)) return true;
    return [...planned, ...again].some((one) => one.step === step);
  }

  #needsOf(step: Step, place: string | undefined): readonly Choice[] {
    const choices: Choice[] = [];
    for (const need of step.needs) {
      const choice = this.#choiceOf(need, place);
      if (choice) choices.push(choice);
    }
    for (const [other] of this.#shownLater) {
      if (
        step !== other &&
        step.needs.some((need) => namesIn(need).some((name) => other.makes.includes(name)))
      ) {
        choices.push([[shownLiteral(other)]]);
      }
    }
    const { countsAs } = step;
    if (countsAs) choices.push([this.#literals(countsAs.while, undefined, false)]);
    return choices;
  }

  /** Undefined where the need asks for nothing that a step could make. */
  #choiceOf(need: Need, place: string | undefined): Choice | undefined {
    const { grounds } = this.#wanted.history;
    const ways = (term: Term): Choice =>
      typeof term === "string" ? this.#needed(term, place, true) : this.#needed(term.not, place, false);
    if ("all" in need) return product(need.all.filter((term) => !isGivenOnly(term, grounds)).map(ways));
    const { state } = this.#wanted;
    const said = need.anyOf.some(
      (term) => typeof term === "string" && isGivenOnly(term, grounds) && state.holds(term, place),
    );
    const others = need.anyOf.filter((term) => !isGivenOnly(term, grounds));
    return said || others.length === 0 ? undefined : others.flatMap(ways);
  }

  #effects(
    step: Step,
    place: string | undefined,
    word: string | undefined,
    makes: readonly string[],
    undoes: readonly string[],
  ): readonly Literal[] {
    const { conditions } = this.#procedure;
    const effects = new Map<string, Literal>();
    const set = (name: string, holds: boolean) => {
      for (const literal of this.#literals(name, place, holds)) {
        effects.set(`${name}\u0000${literal.place ?? ""}`, literal);
      }
    };
    for (const name of lostWhileWaiting(step, this.#wanted.history.grounds)) set(name, false);
    for (const name of undoes) set(name, false);
    for (const name of makes) {
      const opposite = conditions.get(name)?.opposite;
      if (opposite !== undefined) set(opposite, false);
      for (const [other, { takes }] of conditions) if (takes?.since === name) set(other, false);
    }
    for (const name of makes) set(name, true);
    const all = [...effects.values()];
    for (const [other, { step: shows, outcome }] of this.#shownLater) {
      if (other === step) all.push({ ...shownLiteral(other), holds: false });
      else if (shows === step.name && word === outcome) all.push(shownLiteral(other));
    }
    const finds = step.outcome !== undefined && makes.some((name) => this.#perPlace(name));
    for (const name of this.#end) {
      if (!this.#perPlace(name) || !(finds || makes.includes(name) || undoes.includes(name))) continue;
      for (const literal of this.#literals(name, place, true)) {
        all.push({ ...untouched(name, literal.place), holds: false });
      }
    }
    for (const one of this.#wanted.again) {
      if (one.step === step && (place === undefined || place === one.place)) all.push(againLiteral(one));
    }
    return all;
  }

  #endChoices(): readonly Choice[] {
    const { history, outcome, state } = this.#wanted;
    const choices: Choice[] = [];
    for (const term of this.#procedure.end[outcome]) choices.push(this.#endChoice(term));
    for (const [name, { mustBeUndone }] of this.#procedure.conditions) {
      if (!mustBeUndone) continue;
      const places = this.#perPlace(name) ? this.#places : [undefined];
      const kept = places.filter((place) => !leftOnPurpose(history, name, place));
      choices.push([kept.map((place) => ({ name, place, holds: false }))]);
    }
    for (const one of this.#wanted.again) choices.push([[againLiteral(one)]]);
    for (const [step] of this.#shownLater) {
      const done = step.makes.some((name) => state.anywhere(name) || this.#end.has(name));
      if (done) choices.push([[shownLiteral(step)]]);
    }
    return choices;
  }

  #endChoice(term: EndTerm): Choice {
    const { history, state } = this.#wanted;
    if (typeof term !== "string" && "anyOf" in term) return term.anyOf.flatMap((one) => this.#endChoice(one));
    const name = typeof term === "string" ? term : term.not;
    const holds = typeof term === "string";
    if (leftOnPurpose(history, name, undefined) || isGivenOnly(term, history.grounds)) return [[]];
    if (!this.#perPlace(name)) return [[{ name, place: undefined, holds }]];
    const wanted = placesFor(name, history, state);
    const places: readonly (string | undefined)[] =
      wanted.length > 0
        ? wanted
        : this.#places.filter((place, _, all) => place !== undefined || all.length === 1);
    // A place that the run itself brings in is asked for as soon as it has been worked on.
    const others = this.#places
      .filter((place) => place !== undefined && !places.includes(place))
      .slice(0, MOST_CHOICES);
    const choices = others.map((place): Choice => [[{ name, place, holds }], [untouched(name, place)]]);
    return product([[places.map((place) => ({ name, place, holds }))], ...choices]);
  }
}
