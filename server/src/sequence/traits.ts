import type { Procedure } from "../procedures/procedure.ts";
import type { Condition } from "../procedures/procedure-schema.ts";

type Takes = NonNullable<Condition["takes"]>;

/** Conditions of a procedure by what is special about them; gathered once, asked for at every step. */
export interface Traits {
  /** Those that come by time alone after another was made. */
  readonly timed: readonly { readonly name: string; readonly takes: Takes & { readonly since: string } }[];
  /** By the condition that starts the clock, those that have to take their time anew. */
  readonly startedBy: ReadonlyMap<string, readonly string[]>;
  readonly lostOvernight: readonly string[];
  readonly mustBeUndone: readonly string[];
  /** Words that show a condition from then on. */
  readonly lastingWords: readonly (readonly [name: string, words: readonly string[]])[];
}

const gathered = new WeakMap<Procedure, Traits>();

export function traitsOf(procedure: Procedure): Traits {
  const known = gathered.get(procedure);
  if (known) return known;
  const timed: Traits["timed"][number][] = [];
  const startedBy = new Map<string, string[]>();
  const lostOvernight: string[] = [];
  const mustBeUndone: string[] = [];
  const lastingWords: Traits["lastingWords"][number][] = [];
  for (const [name, condition] of procedure.conditions) {
    const { takes, shownBy } = condition;
    if (takes?.since !== undefined) {
      timed.push({ name, takes: { ...takes, since: takes.since } });
      startedBy.set(takes.since, [...(startedBy.get(takes.since) ?? []), name]);
    }
    if (condition.lostOvernight) lostOvernight.push(name);
    if (condition.mustBeUndone) mustBeUndone.push(name);
    for (const one of shownBy ?? []) if ("words" in one && one.lasting) lastingWords.push([name, one.words]);
  }
  const traits = { timed, startedBy, lostOvernight, mustBeUndone, lastingWords };
  gathered.set(procedure, traits);
  return traits;
}
