import { OUTCOME_WORDS } from "../procedures/outcome-words.ts";
import type { Procedure, Step } from "../procedures/procedure.ts";
import type { EndTerm } from "../procedures/procedure-schema.ts";

export interface Effects {
  readonly makes: readonly string[];
  readonly undoes: readonly string[];
}

/** The words that prove a step; none where it has no outcome. */
export function provingWords(step: Step): readonly string[] {
  if (step.provedBy) return step.provedBy;
  return step.outcome ? [OUTCOME_WORDS[step.outcome][0]] : [];
}

/** What a step changes when it ends with this word. `proved`: what it makes may be believed. */
export function effectsOf(step: Step, word: string | undefined, proved: boolean): Effects {
  const special = word === undefined ? undefined : step.byOutcome?.[word];
  return {
    undoes: special?.undoes ? [...step.undoes, ...special.undoes] : step.undoes,
    makes: proved
      ? special?.makes
        ? [...step.makes, ...special.makes]
        : step.makes
      : (special?.makes ?? []),
  };
}

/** Whether the word proves the step. A step without an outcome needs none. */
export const isProved = (step: Step, word: string | undefined): boolean =>
  step.outcome === undefined || (word !== undefined && provingWords(step).includes(word));

/** Every condition that an end names. */
export function endNames(terms: readonly EndTerm[]): readonly string[] {
  return terms.flatMap((term): readonly string[] => {
    if (typeof term === "string") return [term];
    return "not" in term
      ? [term.not]
      : term.anyOf.flatMap((one) => (typeof one === "string" ? one : one.not));
  });
}

/**
 * How a step still to do is taken to turn out: well, which for an end that asks for a test without a finding
 * means that it finds nothing. No word is ever written into the note for it.
 */
export function hopedFor(step: Step, end: ReadonlySet<string>): string | undefined {
  const [proof] = provingWords(step);
  if (!step.outcome || proof === undefined) return undefined;
  const serves = (word: string) =>
    effectsOf(step, word, isProved(step, word)).makes.some((name) => end.has(name));
  if (serves(proof)) return proof;
  return OUTCOME_WORDS[step.outcome].find(serves) ?? proof;
}

/** Conditions that some step can make, so that nobody has to take a remark's word for them. */
export function makeable(procedure: Procedure): ReadonlySet<string> {
  const known = makeables.get(procedure);
  if (known) return known;
  const made = new Set<string>();
  for (const step of procedure.steps) {
    for (const name of step.makes) made.add(name);
    for (const special of Object.values(step.byOutcome ?? {}))
      for (const name of special.makes ?? []) made.add(name);
  }
  makeables.set(procedure, made);
  return made;
}

const makeables = new WeakMap<Procedure, ReadonlySet<string>>();
