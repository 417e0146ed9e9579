import { nearest } from "../text/nearest.ts";
import type {
  CommonFile,
  Condition,
  DefaultLimit,
  EndTerm,
  ExpectedReading,
  JOB_OUTCOMES,
  MediumRule,
  ProcedureFile,
  StepFile,
} from "./procedure-schema.ts";

/**
 * A procedure ready for use: lists are never absent, and the steps that every procedure knows are among its own.
 * The file form, with its schema, is in `procedure-schema.ts`; keeping the two apart lets a checker that
 * uses only built-in procedures start without the schema library.
 */

export type JobOutcome = (typeof JOB_OUTCOMES)[number];

type Lists = "aliases" | "needs" | "makes" | "undoes" | "reads";
export type Step = Readonly<Omit<StepFile, Lists> & { [K in Lists]: NonNullable<StepFile[K]> }>;

export interface Procedure {
  readonly id: string;
  readonly title: string;
  readonly covers: string;
  readonly cautions: readonly string[];
  readonly defer: readonly string[];
  readonly conditions: ReadonlyMap<string, Condition>;
  readonly start: readonly string[];
  readonly end: Readonly<Record<JobOutcome, readonly EndTerm[]>>;
  readonly steps: readonly Step[];
  readonly usual: readonly string[];
  readonly readings: readonly ExpectedReading[];
  readonly limits: readonly DefaultLimit[];
  readonly medium?: MediumRule | undefined;
  /** Every name and alias, as `plainWords` writes it, with the step that it means. */
  readonly stepsByWords: ReadonlyMap<string, Step>;
}

/** Case, hyphens and double blanks make no difference to a step's name. */
export function plainWords(words: string): string {
  return words
    .toLowerCase()
    .replace(/[-\s]+/g, " ")
    .trim();
}

/**
 * A procedure file made whole with the common steps and limits.
 * The procedure's own words win: a common step of the same name falls away, and so does an alias that is taken.
 * A common need on a condition that this procedure does not keep falls away too.
 */
export function completeProcedure(file: ProcedureFile, common: CommonFile): Procedure {
  const own = new Set(file.steps.flatMap((step) => [step.name, ...(step.aliases ?? [])]).map(plainWords));
  const borrowed = common.steps
    .filter((step) => !own.has(plainWords(step.name)))
    .map((step) => {
      const aliases = step.aliases?.filter((alias) => !own.has(plainWords(alias))) ?? [];
      const needs =
        step.needs?.filter((need) => termsOf(need).every((name) => name in file.conditions)) ?? [];
      return completeStep({ ...step, aliases, needs });
    });
  const steps = [...file.steps.map(completeStep), ...borrowed];

  const stepsByWords = new Map<string, Step>();
  for (const step of steps) {
    for (const words of [step.name, ...step.aliases]) stepsByWords.set(plainWords(words), step);
  }
  const commonLimits = common.limits.map((limit) => {
    const known = limit.of.steps.filter((name) => stepsByWords.has(plainWords(name)));
    return { ...limit, of: { ...limit.of, steps: known } };
  });
  return {
    ...file,
    conditions: new Map(Object.entries(file.conditions)),
    steps,
    readings: file.readings ?? [],
    limits: [...(file.limits ?? []), ...commonLimits],
    stepsByWords,
  };
}

function completeStep(step: StepFile): Step {
  const { aliases = [], needs = [], makes = [], undoes = [], reads = [] } = step;
  return { ...step, aliases, needs, makes, undoes, reads };
}

/** The conditions that a need names, whether they must hold or must not. */
export function termsOf(need: Step["needs"][number]): readonly string[] {
  const terms = "all" in need ? need.all : need.anyOf;
  return terms.map((term) => (typeof term === "string" ? term : term.not));
}

export type StepFound =
  | { readonly ok: true; readonly step: Step }
  /** Names of the steps that the words come nearest to, best first. */
  | { readonly ok: false; readonly nearest: readonly string[] };

/** The step that a technician's words mean, by name or alias, without regard to case and hyphens. */
export function findStep(procedure: Procedure, words: string): StepFound {
  const known = found.get(procedure) ?? new Map<string, StepFound>();
  found.set(procedure, known);
  const before = known.get(words);
  if (before) return before;
  // A note being typed brings many half-written steps, so what is remembered is bounded.
  if (known.size >= REMEMBERED) known.clear();
  const made = lookFor(procedure, words);
  known.set(words, made);
  return made;
}

const REMEMBERED = 1000;
const found = new WeakMap<Procedure, Map<string, StepFound>>();

function lookFor(procedure: Procedure, words: string): StepFound {
  const asked = plainWords(words);
  const step = procedure.stepsByWords.get(asked) ?? procedure.stepsByWords.get(asked.replace(/[.,;!]+$/, ""));
  if (step) return { ok: true, step };
  // Aliases widen the net, but the step's own name is what gets offered.
  const near = nearest(asked, [...procedure.stepsByWords.keys()], 6);
  const offered = near.flatMap((key) => procedure.stepsByWords.get(key)?.name ?? []);
  return { ok: false, nearest: [...new Set(offered)].slice(0, 3) };
}
