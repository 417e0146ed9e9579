import type { DefaultLimit } from "../procedures/procedure-schema.ts";
import { isNamed } from "../sequence/grounds.ts";
import { type LimitedValue, valuesUnder } from "./limited-values.ts";
import type { Subject } from "./rule.ts";
import { type LimitInForce, lowest, standingLimit } from "./standing-limit.ts";
import { upperLimits } from "./upper-limits.ts";

/**
 * The default limits of a procedure held against the note: its readings and the quantities in its steps'
 * remarks. The note's own limit comes first, then the shop's, then the built-in one.
 */

export interface LimitedOutcome {
  readonly limit: DefaultLimit;
  readonly value: LimitedValue;
  /** How it came out under the limit in force. */
  readonly verdict: "inside" | "warning" | "error";
  readonly force: LimitInForce;
  /** The bound that was passed, or the nearest one, SI. */
  readonly bound: number | undefined;
  /** The value lies inside only because the note raised the limit; this is the one it would pass otherwise. */
  readonly raisedOver?: LimitInForce & { readonly bound: number };
  /** The note's limit is in force, and the value is beyond the shop's or the built-in one as well. */
  readonly beyondOther?: LimitInForce & { readonly bound: number; readonly verdict: "warning" | "error" };
}

/** Every value of the note that a limit of this rule is about, with how it came out. */
export function* heldAgainstDefaults(subject: Subject, rule: DefaultLimit["rule"]): Iterable<LimitedOutcome> {
  const { procedure } = subject;
  if (!procedure) return;
  for (const limit of procedure.limits) {
    if (limit.rule !== rule) continue;
    for (const value of valuesUnder(limit, subject)) {
      const outcome = decide(limit, value, subject);
      if (outcome) yield outcome;
    }
  }
}

/** How one value comes out under a limit. */
export function decide(
  limit: DefaultLimit,
  value: LimitedValue,
  subject: Subject,
): LimitedOutcome | undefined {
  const notes = noteLimit(limit, value, subject);
  const standing = standingLimit(limit, subject);
  // A limit that may be raised still needs its source to be raised; lowering it needs none.
  const raises = notes !== undefined && standing !== undefined && lowest(notes) > lowest(standing);
  const noteCounts = notes !== undefined && (!raises || (limit.raisable && notes.source !== ""));
  const force = noteCounts ? notes : standing;
  if (!force) return undefined;
  const { verdict, bound } = verdictUnder(force, value.si);
  const base = { limit, value, verdict, force, bound };
  if (!noteCounts || !standing) return base;
  const otherwise = verdictUnder(standing, value.si);
  if (otherwise.verdict === "inside" || otherwise.bound === undefined) return base;
  const other = { ...standing, bound: otherwise.bound, verdict: otherwise.verdict };
  if (!raises) return { ...base, beyondOther: other };
  return verdict === "inside" ? { ...base, raisedOver: other } : base;
}

/** The bounds in force for a value, SI. */
export function boundsInForce(limit: DefaultLimit, value: LimitedValue, subject: Subject): readonly number[] {
  const force = decide(limit, value, subject)?.force;
  return [force?.warnAbove, force?.errorAbove, force?.errorFrom].filter((bound) => bound !== undefined);
}

function verdictUnder(
  force: LimitInForce,
  si: number,
): { verdict: LimitedOutcome["verdict"]; bound: number | undefined } {
  // Unit conversion leaves residues in the last places; equal is equal all the same.
  const above = (bound: number | undefined) =>
    bound !== undefined && si > bound + 1e-12 * Math.max(Math.abs(bound), Math.abs(si));
  const from = (bound: number | undefined) =>
    bound !== undefined && si >= bound - 1e-12 * Math.max(Math.abs(bound), Math.abs(si));
  if (from(force.errorFrom)) return { verdict: "error", bound: force.errorFrom };
  if (above(force.errorAbove)) return { verdict: "error", bound: force.errorAbove };
  if (above(force.warnAbove)) return { verdict: "warning", bound: force.warnAbove };
  return { verdict: "inside", bound: force.warnAbove ?? force.errorAbove ?? force.errorFrom };
}

/**
 * The note's own upper limit on this reading; for a step, on any of the readings that stand for it, whether
 * or not the note has taken one.
 */
function noteLimit(limit: DefaultLimit, value: LimitedValue, subject: Subject): LimitInForce | undefined {
  let found: LimitInForce | undefined;
  const own = value.evaluated?.definition.key;
  for (const upper of upperLimits(subject)) {
    if (upper.bound.dimension !== value.unit.dimension) continue;
    const meant =
      own === undefined
        ? isNamed(upper.name, limit.of.readings)
        : own === upper.name || own.endsWith(` ${upper.name}`);
    if (!meant) continue;
    // Of several the lowest binds.
    if (found?.errorAbove !== undefined && found.errorAbove <= upper.bound.si) continue;
    found = {
      warnAbove: undefined,
      errorAbove: upper.bound.si,
      errorFrom: undefined,
      whose: "note",
      source: upper.source,
    };
  }
  return found;
}
