import { type JobOutcome, plainWords } from "../procedures/procedure.ts";
import type { Condition, EndTerm, Term } from "../procedures/procedure-schema.ts";
import type { StepEvent } from "./events.ts";
import type { History } from "./history.ts";
import type { Mark, State } from "./state.ts";
import { traitsOf } from "./traits.ts";
import { saysOneOf } from "./words.ts";

/** A condition that the end asks for and that does not hold, with the places where it does not. */
export interface Missing {
  readonly term: EndTerm;
  readonly name: string;
  /** Empty where it is about the whole part. */
  readonly places: readonly string[];
  readonly mark: Mark | undefined;
}

/** A condition that nobody may drive away with. */
export interface LeftBehind {
  readonly name: string;
  readonly place: string | undefined;
  readonly mark: Mark;
  /** The line that leaves it so on purpose. */
  readonly onPurpose: StepEvent | undefined;
}

export interface End {
  readonly missing: readonly Missing[];
  readonly left: readonly LeftBehind[];
}

/** What a job that ends so lacks, and what it leaves behind. */
export function endOf(history: History, state: State, outcome: JobOutcome): End {
  const { procedure } = history.grounds;
  const left: LeftBehind[] = [];
  for (const name of traitsOf(procedure).mustBeUndone) {
    for (const { place, mark } of state.holding(name)) {
      left.push({ name, place, mark, onPurpose: leftOnPurpose(history, name, place) });
    }
  }
  // What is left behind is said once, and not again as its opposite that is missing.
  const opposites = new Set(left.map(({ name }) => procedure.conditions.get(name)?.opposite));
  const missing: Missing[] = [];
  for (const term of procedure.end[outcome]) {
    const one = missingFrom(term, history, state);
    if (one && !opposites.has(one.name)) missing.push(one);
  }
  return { missing, left };
}

function missingFrom(term: EndTerm, history: History, state: State): Missing | undefined {
  if (typeof term !== "string" && "anyOf" in term) {
    const failing = term.anyOf.map((one) => missingFrom(one, history, state));
    if (failing.some((one) => one === undefined)) return undefined;
    const [first] = failing;
    return first ? { ...first, term } : undefined;
  }
  const negative = typeof term !== "string";
  const name = negative ? term.not : term;
  if (leftOnPurpose(history, name, undefined)) return undefined;
  if (negative) {
    return state.anywhere(name) ? { term, name, places: [], mark: state.mark(name, undefined) } : undefined;
  }
  const wanted = placesFor(name, history, state);
  if (wanted.length === 0) {
    return state.holds(name, undefined)
      ? undefined
      : { term, name, places: [], mark: state.mark(name, undefined) };
  }
  const places = wanted.filter((place) => !state.holds(name, place));
  if (places.length === 0) return undefined;
  return { term, name, places, mark: state.mark(name, places[0]) };
}

/**
 * The places at which a condition is asked for at the end: those where something was found and those where
 * work undid it. A place that is left on purpose is not among them.
 */
export function placesFor(name: string, history: History, state: State): readonly string[] {
  if (!state.perPlace(name)) return [];
  const places = new Set([...history.found.keys(), ...state.places(name)]);
  for (const { place } of history.left) if (place !== undefined) places.delete(place);
  return [...places];
}

/** The `leave` line that names a condition, in its own words or those of its opposite. */
export function leftOnPurpose(
  history: History,
  name: string,
  place: string | undefined,
): StepEvent | undefined {
  const { conditions } = history.grounds.procedure;
  return history.left.find((event) => {
    if (event.place !== undefined && place !== undefined) return event.place === place;
    const words = wordsFor(name, conditions.get(name)?.says ?? name);
    if (saysOneOf(`${event.syntax.place?.text ?? ""} ${event.remark}`, words)) return true;
    return isMeantByPlace(name, event, conditions);
  });
}

/**
 * `leave [vents]: the maker's caps stay on` means `vents blocked` where that is the only thing of the vents that a
 * job must not leave. A remark that says the contrary, as `[vents]: open by design`, leaves nothing blocked.
 */
function isMeantByPlace(
  name: string,
  { syntax, remark }: StepEvent,
  conditions: History["grounds"]["procedure"]["conditions"],
): boolean {
  const condition = conditions.get(name);
  const place = plainWords(syntax.place?.text ?? "").replace(/^the /, "");
  if (place === "" || !condition?.mustBeUndone) return false;
  const words = [place, place.endsWith("s") ? place.slice(0, -1) : `${place}s`];
  const says = (one: string, of: Condition) => saysOneOf(one, words) || saysOneOf(of.says, words);
  const meant = [...conditions].filter(([one, of]) => of.mustBeUndone && says(one, of));
  if (meant.length !== 1 || meant[0]?.[0] !== name) return false;
  const contrary = plainWords(condition.opposite ?? "")
    .split(" ")
    .filter((word) => word !== "" && !words.includes(word) && !plainWords(name).split(" ").includes(word));
  return contrary.length === 0 || !saysOneOf(remark, contrary);
}

const known = new Map<string, readonly string[]>();
function wordsFor(name: string, says: string): readonly string[] {
  const key = `${name}\u0000${says}`;
  const made = known.get(key) ?? [name, withoutArticle(says)];
  known.set(key, made);
  return made;
}

/** A term as a noun phrase. */
export function termInWords(term: Term | EndTerm, says: (name: string) => string): string {
  if (typeof term === "string") return says(term);
  if ("not" in term) return `no ${withoutArticle(says(term.not))}`;
  return term.anyOf.map((one) => termInWords(one, says)).join(" or ");
}

/** Terms of which one would do: those that must not hold say when the others are needed. */
export function anyInWords(terms: readonly Term[], says: (name: string) => string): string {
  const needed = terms.filter((term) => typeof term === "string");
  const given = terms.flatMap((term) => (typeof term === "string" ? [] : says(term.not)));
  if (needed.length === 0 || given.length === 0)
    return terms.map((term) => termInWords(term, says)).join(" or ");
  return `${needed.map(says).join(" or ")} (with ${given.join(" and ")})`;
}

export const withoutArticle = (phrase: string): string => phrase.replace(/^(?:the|a|an|all) /, "");
