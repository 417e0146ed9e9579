import type { Procedure, Step } from "../procedures/procedure.ts";
import type { Need } from "../procedures/procedure-schema.ts";

/** A step, at a place or of the whole part. */
export interface StepAt {
  readonly step: Step;
  readonly place: string | undefined;
}

/** One thing that must hold, or must not. */
export interface Literal {
  readonly name: string;
  readonly place: string | undefined;
  readonly holds: boolean;
}

/** Any of these lists would do; each literal of a list must be so. */
export type Choice = readonly (readonly Literal[])[];

/** Steps of the usual order first, so that of equally short runs the usual one is found. */
export function inTurn<M extends { readonly draft: Draft }>(
  moves: readonly M[],
  { usual }: Procedure,
): readonly M[] {
  const rank = ({ draft }: M): number => {
    const at = usual.indexOf(draft.step.name);
    return (at < 0 ? usual.length : at) + (draft.place === undefined && draft.step.perPlace ? 0.5 : 0);
  };
  return [...moves].sort((a, b) => rank(a) - rank(b));
}

export interface Draft {
  readonly step: Step;
  readonly place: string | undefined;
  /** Any of these. */
  readonly needs: readonly (readonly Literal[])[];
  readonly effects: readonly Literal[];
}

export const keyOf = ({ name, place, holds }: Literal): string =>
  `${holds ? "+" : "-"}${name}\u0000${place ?? ""}`;

export const shownName = (step: Step): string => `shown\u0001${step.name}`;
export const shownLiteral = (step: Step): Literal => ({
  name: shownName(step),
  place: undefined,
  holds: true,
});

/** A place that no step has been about yet. */
export const UNTOUCHED = "untouched\u0001";
export const untouched = (name: string, place: string | undefined): Literal => ({
  name: `${UNTOUCHED}${name}`,
  place,
  holds: true,
});

export const AGAIN = "again\u0001";
export const againLiteral = ({ step, place }: StepAt): Literal => ({
  name: `${AGAIN}${step.name}\u0000${place ?? ""}`,
  place: undefined,
  holds: true,
});

export const namesIn = (need: Need): readonly string[] =>
  ("all" in need ? need.all : need.anyOf).map((term) => (typeof term === "string" ? term : term.not));

/** One list for every way of meeting all choices. */
export function product(choices: readonly Choice[]): readonly (readonly Literal[])[] {
  let ways: readonly (readonly Literal[])[] = [[]];
  for (const choice of choices) ways = ways.flatMap((way) => choice.map((one) => [...way, ...one]));
  return ways;
}

/** The drafts that can bring the goal nearer, each with one of its ways: worked out back from the goal. */
export function relevant(
  drafts: readonly Draft[],
  goals: readonly (readonly Literal[])[],
): readonly { readonly draft: Draft; readonly needs: readonly Literal[] }[] {
  const wanted = new Set(goals.flat().map(keyOf));
  const taken = new Set<Draft>();
  for (let more = true; more; ) {
    more = false;
    for (const draft of drafts) {
      if (taken.has(draft) || !draft.effects.some((literal) => wanted.has(keyOf(literal)))) continue;
      taken.add(draft);
      more = true;
      for (const literal of draft.needs.flat()) wanted.add(keyOf(literal));
    }
  }
  return drafts
    .filter((draft) => taken.has(draft))
    .flatMap((draft) => draft.needs.map((needs) => ({ draft, needs })));
}
