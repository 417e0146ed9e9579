import type { Evaluated } from "../analysis/evaluation.ts";
import { evaluate } from "../analysis/expression.ts";
import { conjuncts, type LimitOutcome } from "../analysis/limits.ts";
import type { Quantity } from "../analysis/quantity.ts";
import { inWords } from "../analysis/showing.ts";
import type { Expression, LimitLine } from "../language/syntax.ts";
import type { Placed, Range } from "../note/note.ts";
import { findStep, plainWords } from "../procedures/procedure.ts";
import type { DefaultLimit } from "../procedures/procedure-schema.ts";
import type { ShopLimit } from "../shop/shop.ts";
import { CURRENT, type Dimension, PRESSURE, TEMPERATURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { fromSI, toSI, type Unit } from "../units/unit.ts";
import { rangeOn, type Subject } from "./rule.ts";
import { greatestOf } from "./taken-readings.ts";

/**
 * The default limits of a procedure held against the note: its readings and the quantities in its steps'
 * remarks. The note's own limit comes first, then the shop's, then the built-in one.
 */

/** Something of the note that a default limit is about. */
export interface LimitedValue {
  /** The reading's name, or the step's words. */
  readonly name: string;
  readonly kind: "reading" | "step";
  /** SI. */
  readonly si: number;
  readonly unit: Unit;
  readonly range: Range;
  /** Its definition, for a reading. */
  readonly evaluated?: Evaluated;
}

/** A limit in force, SI, with whose it is. */
export interface LimitInForce {
  readonly warnAbove: number | undefined;
  readonly errorAbove: number | undefined;
  /** An error at this value already. */
  readonly errorFrom: number | undefined;
  readonly whose: "note" | "shop" | "built-in";
  /** Where the figure comes from, in words. */
  readonly source: string;
}

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

const DIMENSIONS: Readonly<Partial<Record<DefaultLimit["of"]["reads"], Dimension>>> = {
  pressure: PRESSURE,
  temperature: TEMPERATURE,
  current: CURRENT,
};

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

/** Readings and step quantities that a default limit is about. */
export function* valuesUnder(limit: DefaultLimit, subject: Subject): Iterable<LimitedValue> {
  const dimension = DIMENSIONS[limit.of.reads];
  if (!dimension) return;
  for (const evaluated of subject.evaluation.byKey.values()) {
    const { definition, result } = evaluated;
    if (result?.kind !== "quantity" || result.dimension !== dimension || !result.unit) continue;
    if (!isNamed(definition.key, limit.of.readings) || definition.body.kind !== "line") continue;
    const { placed, syntax } = definition.body;
    const span =
      syntax.kind === "measured"
        ? syntax.value.span
        : syntax.kind === "formula"
          ? syntax.formula.span
          : definition.nameSpan;
    yield {
      name: definition.name,
      kind: "reading",
      si: result.sampling ? greatestOf(result.sampling.values) : result.si,
      unit: result.unit,
      range: rangeOn(placed, span),
      evaluated,
    };
  }
  yield* stepValues(limit, dimension, subject);
}

function* stepValues(limit: DefaultLimit, dimension: Dimension, subject: Subject): Iterable<LimitedValue> {
  const { procedure, note } = subject;
  if (!procedure) return;
  const wanted = new Set(limit.of.steps.map(plainWords));
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const placed of block.lines) {
      const { syntax } = placed;
      if (syntax.kind !== "step" || syntax.quantities.length === 0) continue;
      const found = findStep(procedure, syntax.step.text);
      if (!found.ok || !wanted.has(plainWords(found.step.name))) continue;
      let highest: LimitedValue | undefined;
      for (const quantity of syntax.quantities) {
        const reading = readUnit(quantity.unit.text);
        if (!reading.ok || reading.unit.dimension !== dimension) continue;
        const si = asGauge(toSI(quantity.number.value, reading.unit), reading.unit, subject);
        // Of several the highest counts: it is what the part went through.
        if (highest && highest.si >= si) continue;
        highest = {
          name: syntax.step.text,
          kind: "step",
          si,
          unit: reading.unit,
          range: rangeOn(placed, quantity.span),
        };
      }
      if (highest) yield highest;
    }
  }
}

/** Limits on pressure are gauge; an absolute pressure is one above ambient. */
function asGauge(si: number, unit: Unit, { evaluation }: Subject): number {
  if (unit.scale !== "absolute") return si;
  return si - evaluation.context("", () => undefined).ambient().quantity.si;
}

/** `retest test pressure` is a `test pressure` too. */
export const isNamed = (key: string, names: readonly string[]): boolean =>
  names.some((name) => key === name || key.endsWith(` ${name}`));

/** The shop's limit, else the built-in one. */
export const standingLimit = (limit: DefaultLimit, subject: Subject): LimitInForce | undefined =>
  shopLimit(limit, subject) ?? builtInLimit(limit, subject);

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

export const lowest = (force: LimitInForce): number =>
  Math.min(
    force.warnAbove ?? Number.POSITIVE_INFINITY,
    force.errorAbove ?? Number.POSITIVE_INFINITY,
    force.errorFrom ?? Number.POSITIVE_INFINITY,
  );

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

function builtInLimit(limit: DefaultLimit, subject: Subject): LimitInForce | undefined {
  const bound = (written: DefaultLimit["errorAbove"]): number | undefined => {
    if (written === undefined) return undefined;
    if (typeof written === "string") return boundInSI(written);
    const result = subject.evaluation.byKey.get(written.reading)?.result;
    return result?.kind === "quantity" ? result.si : undefined;
  };
  const made = {
    warnAbove: bound(limit.warnAbove),
    errorAbove: bound(limit.errorAbove),
    errorFrom: bound(limit.errorFrom),
    whose: "built-in" as const,
    source: limit.source,
  };
  return Number.isFinite(lowest(made)) ? made : undefined;
}

/** `60 degC` of a procedure file. */
function boundInSI(written: string): number | undefined {
  const parts = /^([+-]?\d+(?:\.\d+)?) (\S.*)$/.exec(written);
  const reading = parts?.[2] === undefined ? undefined : readUnit(parts[2]);
  return reading?.ok ? toSI(Number(parts?.[1]), reading.unit) : undefined;
}

function shopLimit(limit: DefaultLimit, { shop, procedure }: Subject): LimitInForce | undefined {
  const fits = (one: ShopLimit) =>
    (one.procedure === undefined || one.procedure === procedure?.id) &&
    limit.of.readings.some((name) => name === one.quantity);
  // One for this very procedure goes before one for all.
  const own = shop.limits.find((one) => fits(one) && one.procedure !== undefined) ?? shop.limits.find(fits);
  if (!own) return undefined;
  return {
    warnAbove: own.warnAbove,
    errorAbove: own.errorAbove,
    errorFrom: undefined,
    whose: "shop",
    source: own.source ?? "the shop file",
  };
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

/** A line of a limits block that says how high something may go. */
export interface UpperLimit {
  /** In lower case, as written: the bare name inside a labelled block. */
  readonly name: string;
  readonly bound: Quantity;
  /** Empty where the line names none. */
  readonly source: string;
  readonly placed: Placed<LimitLine>;
}

const gathered = new WeakMap<Subject["evaluation"], readonly UpperLimit[]>();

/** Every `name <= quantity` (or the other way round) of the note's limits. */
export function upperLimits(subject: Subject): readonly UpperLimit[] {
  const known = gathered.get(subject.evaluation);
  if (known) return known;
  const made: UpperLimit[] = [];
  for (const block of subject.note.blocks) {
    if (block.kind !== "limits") continue;
    const context = subject.evaluation.context(block.label, () => undefined);
    for (const placed of block.lines) {
      const { syntax } = placed;
      if (syntax.kind !== "limit" || syntax.problems.length > 0) continue;
      for (const part of conjuncts(syntax.condition)) {
        const sides = part.kind === "binary" ? namedAndBound(part) : undefined;
        const bound = sides && evaluate(sides.bound, context);
        if (!sides || bound?.kind !== "quantity") continue;
        const line = placed as Placed<LimitLine>;
        made.push({ name: sides.name, bound, source: syntax.source?.text ?? "", placed: line });
      }
    }
  }
  gathered.set(subject.evaluation, made);
  return made;
}

/** The same for a limit that was decided: `name <= quantity` as the name and its bound, SI. */
export function upperLimit({
  condition,
  left,
  right,
}: LimitOutcome): { readonly name: string; readonly si: number; readonly bound: Quantity } | undefined {
  const sides = condition.kind === "binary" ? namedAndBound(condition) : undefined;
  if (!sides || condition.kind !== "binary" || !left || !right) return undefined;
  const bound = sides.bound === condition.right ? right : left;
  return { name: sides.name, si: bound.si, bound };
}

function namedAndBound(
  node: Extract<Expression, { kind: "binary" }>,
): { name: string; bound: Expression } | undefined {
  const below = node.operator === "<" || node.operator === "<=";
  const above = node.operator === ">" || node.operator === ">=";
  if (!below && !above) return undefined;
  const named = below ? node.left : node.right;
  return named.kind === "name" ? { name: named.name.key, bound: below ? node.right : node.left } : undefined;
}

/** A value or bound in the unit in which the value was written. */
export const shownIn = (si: number, unit: Unit): string => inWords(fromSI(si, unit), null, unit.spelling);
