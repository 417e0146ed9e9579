import type { Procedure, Step } from "../../server/src/procedures/procedure.ts";
import { findStep } from "../../server/src/procedures/procedure.ts";
import type { EndTerm, Term } from "../../server/src/procedures/procedure-schema.ts";
import { OUTCOME_WORDS } from "../../server/src/procedures/procedure-schema.ts";

/**
 * A deliberately simple reading of a procedure, for tests of the data alone: no places, no times,
 * and whatever a remark or a reading can show counts as shown.
 */
export interface Walked {
  readonly holds: ReadonlySet<string>;
  /** "step needs condition", in the order met. */
  readonly unmet: readonly string[];
}

export const provingWords = (step: Step): readonly string[] =>
  step.provedBy ?? (step.outcome ? [OUTCOME_WORDS[step.outcome][0]] : []);

export const given = (procedure: Procedure, name: string): boolean =>
  procedure.conditions.get(name)?.shownBy !== undefined;

export function termHolds(procedure: Procedure, holds: ReadonlySet<string>, term: Term): boolean {
  if (typeof term !== "string") return !holds.has(term.not);
  return holds.has(term) || given(procedure, term);
}

export function needHolds(
  procedure: Procedure,
  holds: ReadonlySet<string>,
  need: Step["needs"][number],
): boolean {
  const check = (term: Term) => termHolds(procedure, holds, term);
  return "all" in need ? need.all.every(check) : need.anyOf.some(check);
}

export function endHolds(procedure: Procedure, holds: ReadonlySet<string>, term: EndTerm): boolean {
  if (typeof term === "string" || "not" in term) return termHolds(procedure, holds, term);
  return term.anyOf.some((one) => termHolds(procedure, holds, one));
}

/** What holds after a step that ended with this outcome word (null: none was written). */
export function after(holds: ReadonlySet<string>, step: Step, outcome: string | null): ReadonlySet<string> {
  const proved = step.outcome === undefined || (outcome !== null && provingWords(step).includes(outcome));
  const special = outcome === null ? undefined : step.byOutcome?.[outcome];
  const next = new Set(holds);
  for (const name of [...step.undoes, ...(special?.undoes ?? [])]) next.delete(name);
  for (const name of [...(proved ? step.makes : []), ...(special?.makes ?? [])]) next.add(name);
  return next;
}

/** Walks lines such as `locate: found` or `seal`; a step without a written outcome takes its proving word. */
export function walk(procedure: Procedure, lines: readonly string[]): Walked {
  let holds: ReadonlySet<string> = new Set(procedure.start);
  const unmet: string[] = [];
  for (const line of lines) {
    const [words = "", outcome] = line.split(":").map((part) => part.trim());
    const found = findStep(procedure, words);
    if (!found.ok) throw new Error(`${procedure.id} knows no step ${words}`);
    for (const need of found.step.needs) {
      if (needHolds(procedure, holds, need)) continue;
      const terms = "all" in need ? need.all : need.anyOf;
      const spoken = terms.map((term) => (typeof term === "string" ? term : `no ${term.not}`)).join(" or ");
      unmet.push(`${found.step.name} needs ${spoken}`);
    }
    holds = after(holds, found.step, outcome ?? provingWords(found.step)[0] ?? null);
  }
  return { holds, unmet };
}

/** Conditions that a finished job would leave behind or lack. */
export function missingAtEnd(
  procedure: Procedure,
  outcome: keyof Procedure["end"],
  holds: ReadonlySet<string>,
): string[] {
  const missing = procedure.end[outcome]
    .filter((term) => !endHolds(procedure, holds, term))
    .map((term) => JSON.stringify(term));
  const left = [...procedure.conditions]
    .filter(([name, condition]) => condition.mustBeUndone && holds.has(name))
    .map(([name]) => `left: ${name}`);
  return [...missing, ...left];
}
