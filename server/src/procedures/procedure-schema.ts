import * as z from "zod/mini";

/**
 * What a procedure file may hold: the built-in ones beside this file and the shop's own alike.
 * The schema is strict, so that a misspelt key is a finding and not a rule that silently never fires.
 */

/** A list that must not be empty: an empty `all:` would hold for ever without anybody noticing. */
const names = z.array(z.string().check(z.minLength(1))).check(z.minLength(1));
const sentence = z.string().check(z.minLength(1));
/** A quantity as a note would write it, such as `1 psi`. The unit table reads it, not this schema. */
const quantity = z.string().check(z.regex(/^[+-]?\d+(\.\d+)? \S.*$/, "write a number, a blank and a unit"));

/** What a remark's quantities may be asked for. */
export const DIMENSIONS = [
  "pressure",
  "temperature",
  "current",
  "voltage",
  "resistance",
  "time",
  "volume",
  "flow",
  "length",
  "mass",
  "share",
] as const;
const dimension = z.enum(DIMENSIONS);

/** How a finished job may have ended (`outcome:` in the front matter). */
export const JOB_OUTCOMES = ["repaired", "replaced", "no fault found", "declined", "diagnosis only"] as const;

export { OUTCOME_WORDS } from "./outcome-words.ts";

const outcomeKind = z.enum(["found or none", "pass or fail", "droplets, fog or none"]);

/** A condition that must hold, or one that must not. */
const term = z.union([z.string(), z.strictObject({ not: z.string() })]);

/**
 * What can show a condition, or prove a step, when no step makes it:
 * - `reading`: the note has this reading, within the bounds if given;
 * - `words`: the remark of the step that asks says one of these (`*` = any ending); with `lasting`, so may an
 *   earlier remark or the note's `subject`, and it holds from there until a step undoes it; with `unless`, not
 *   where one of those stands beside it. Where a step needs that the condition does not hold, its place counts too;
 * - `quantity`: the step's own remark holds a quantity of this dimension, within the bounds if given;
 * - `step` + `outcome`: a later step with this outcome;
 * - `limit`: a limit on this reading is known; `statedOnly` leaves the built-in ones out;
 * - `medium`: the medium is stated and allowed;
 * - `instrument`: this reading was taken with an instrument of the shop file, so its range is known.
 */
const evidence = z.union([
  z.strictObject({ reading: z.string(), atLeast: z.optional(quantity), atMost: z.optional(quantity) }),
  z.strictObject({ words: names, unless: z.optional(names), lasting: z.optional(z.boolean()) }),
  z.strictObject({ quantity: dimension, atLeast: z.optional(quantity), atMost: z.optional(quantity) }),
  z.strictObject({ step: z.string(), outcome: z.string() }),
  z.strictObject({ limit: z.string(), statedOnly: z.optional(z.boolean()) }),
  z.strictObject({ medium: z.literal("allowed") }),
  z.strictObject({ instrument: z.string() }),
]);

const condition = z.strictObject({
  /** Noun phrase for messages: "`seal` needs …". */
  says: sentence,
  /** Kept per place: `[lower seam]` may be tight while `[upper seam]` is not. */
  perPlace: z.optional(z.boolean()),
  /** Kept per place, but a step that names no place asks for it at one of them, not at each. */
  atAnyPlace: z.optional(z.boolean()),
  /** A finished job may never leave it so, whatever its outcome. */
  mustBeUndone: z.optional(z.boolean()),
  /** The condition that holds when this one does not; whatever makes the one undoes the other. */
  opposite: z.optional(z.string()),
  /** Cannot be taken for granted the next morning. */
  lostOvernight: z.optional(z.boolean()),
  /** Any one of these shows it to a step that needs it, without a step that makes it. */
  shownBy: z.optional(z.array(evidence).check(z.minLength(1))),
  /**
   * Needs time. Once the time has passed since `since` was made, this condition holds and `since` is gone,
   * even without a line that says so; a line written sooner is too early.
   */
  takes: z.optional(
    z.strictObject({
      /** What the time is, in plain words; the note's or the shop file's figure for it rules. */
      what: sentence,
      /** Readings of the note that hold the figure, where somebody looked it up. */
      readings: z.optional(names),
      since: z.optional(z.string()),
      /** Taken when neither the note nor the shop file says. */
      otherwise: quantity,
      source: sentence,
    }),
  ),
});

/** One thing that a step needs, with the reason that the finding gives. */
const needExtras = {
  why: sentence,
  severity: z.optional(z.enum(["error", "warning"])),
  /** The rule that reports it, where it is not `sequence/needs`. */
  rule: z.optional(z.enum(["sequence/not-dry", "sequence/not-cured", "pressure/no-limit"])),
};
const terms = z.array(term).check(z.minLength(1));
const need = z.union([
  z.strictObject({ all: terms, ...needExtras }),
  z.strictObject({ anyOf: terms, ...needExtras }),
]);

const effect = z.strictObject({
  makes: z.optional(names),
  undoes: z.optional(names),
  caution: z.optional(sentence),
});

const stepSchema = z.strictObject({
  name: z.string().check(z.minLength(1)),
  aliases: z.optional(names),
  /** May carry a `[place]`. */
  perPlace: z.optional(z.boolean()),
  /** The remark must start with one of these words; without one the step proves nothing. */
  outcome: z.optional(outcomeKind),
  /** The words that prove it, where they are not the usual first one. */
  provedBy: z.optional(names),
  needs: z.optional(z.array(need).check(z.minLength(1))),
  /** Holds from here on; where the step has an outcome, only when it is proved. */
  makes: z.optional(names),
  /** No longer holds from here on, whatever the outcome: the work was done. */
  undoes: z.optional(names),
  /** Further effects of a particular outcome, such as `fail`. */
  byOutcome: z.optional(z.record(z.string(), effect)),
  /** Something beyond the line itself must stand behind what it makes. */
  evidence: z.optional(
    z.strictObject({
      says: sentence,
      anyOf: z.array(evidence).check(z.minLength(1)),
      missing: z.enum(["error", "warning"]),
    }),
  ),
  /** Quantities of these dimensions in the remark are read and checked. */
  reads: z.optional(z.array(dimension).check(z.minLength(1))),
  /** Its duration matters: `until HH:MM` or a time in the remark. */
  time: z.optional(z.boolean()),
  /** While that condition holds, this step is also that other one: its needs and limits apply. */
  countsAs: z.optional(z.strictObject({ step: z.string(), while: z.string(), why: sentence })),
  /** The mend proposes it only for a job that ends so. Whoever does it writes it down whatever the outcome. */
  onlyFor: z.optional(z.array(z.enum(JOB_OUTCOMES)).check(z.minLength(1))),
  /** Two steps mean something to every procedure: what is left on purpose, and a change of hands. */
  special: z.optional(z.enum(["leave", "hand over"])),
  caution: z.optional(sentence),
});

const readingSchema = z.strictObject({
  name: z.string(),
  aliases: z.optional(names),
  /** A unit that fits, as a note would spell it; null where the reading is words. */
  unit: z.nullable(z.string()),
  why: sentence,
  /** A careful technician always writes it down. */
  required: z.optional(z.boolean()),
  /** Required only once this step has been done. */
  when: z.optional(z.string()),
});

const bound = z.union([quantity, z.strictObject({ reading: z.string() })]);
export const limitSchema = z.strictObject({
  assembly: sentence,
  /** Readings with one of these names (or ending in it), and such quantities in these steps' remarks. */
  of: z.strictObject({ readings: names, steps: names, reads: dimension }),
  warnAbove: z.optional(bound),
  errorAbove: z.optional(bound),
  /** An error at this value already, where the rule says "less than". */
  errorFrom: z.optional(bound),
  rule: z.enum(["pressure/over-limit", "pressure/cleaning-air", "moisture/too-hot"]),
  source: sentence,
  /** Whether a limit in the note that names its source may be higher. */
  raisable: z.boolean(),
  /** Readings of an area that turn the pressure into a force on the part. */
  areas: z.optional(names),
});

const medium = z.strictObject({
  /** Steps whose remark may name the medium; a reading `medium` counts for all of them. */
  steps: names,
  mustBeStated: z.boolean(),
  /** Nothing but these; absent: anything that is not forbidden. */
  allowed: z.optional(names),
  /** Wins over `allowed` when a remark names both. */
  forbidden: names,
  why: sentence,
  source: sentence,
});

const endTerm = z.union([z.string(), z.strictObject({ not: z.string() }), z.strictObject({ anyOf: terms })]);
const endTerms = z.array(endTerm).check(z.minLength(1));

export const procedureSchema = z.strictObject({
  id: z.string().check(z.regex(/^[a-z]+(-[a-z]+)*$/, "write small letters and hyphens")),
  title: sentence,
  covers: sentence,
  cautions: z.array(sentence).check(z.minLength(1)),
  /** Whose word goes before this file's. */
  defer: z.array(sentence).check(z.minLength(1)),
  conditions: z.record(z.string(), condition),
  start: names,
  end: z.strictObject({
    repaired: endTerms,
    replaced: endTerms,
    "no fault found": endTerms,
    declined: endTerms,
    "diagnosis only": endTerms,
  }),
  steps: z.array(stepSchema).check(z.minLength(1)),
  /** A clean job in its usual order, for a new note; empty where no order is usual. */
  usual: z.array(z.string()),
  readings: z.optional(z.array(readingSchema)),
  limits: z.optional(z.array(limitSchema)),
  medium: z.optional(medium),
});

/** Steps and limits that every procedure knows. */
export const commonSchema = z.strictObject({
  steps: z.array(stepSchema),
  limits: z.array(limitSchema),
});

/** Procedures are data that nobody changes once they are read. */
type Settled<T> = T extends object ? { readonly [K in keyof T]: Settled<T[K]> } : T;

export type Dimension = z.infer<typeof dimension>;
export type Evidence = Settled<z.infer<typeof evidence>>;
export type Term = Settled<z.infer<typeof term>>;
export type EndTerm = Settled<z.infer<typeof endTerm>>;
export type Condition = Settled<z.infer<typeof condition>>;
export type Need = Settled<z.infer<typeof need>>;
export type OutcomeKind = z.infer<typeof outcomeKind>;
export type StepFile = Settled<z.infer<typeof stepSchema>>;
export type ExpectedReading = Settled<z.infer<typeof readingSchema>>;
export type Bound = Settled<z.infer<typeof bound>>;
export type DefaultLimit = Settled<z.infer<typeof limitSchema>>;
export type MediumRule = Settled<z.infer<typeof medium>>;
export type ProcedureFile = Settled<z.infer<typeof procedureSchema>>;
export type CommonFile = Settled<z.infer<typeof commonSchema>>;
