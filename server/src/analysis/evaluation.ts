import type { Block } from "../note/note.ts";
import { type LogReading, logOf } from "../note/series-log.ts";
import type { Shop } from "../shop/shop.ts";
import { nearest } from "../text/nearest.ts";
import { ambientPressure, assumedSource, instrumentErrors } from "./assumed.ts";
import { ByPlace } from "./by-place.ts";
import type { Context } from "./context.ts";
import { inDisplayUnit } from "./display-unit.ts";
import {
  type Asked,
  type EvaluationMemo,
  NameTests,
  type Remembered,
  sameResults,
  type Use,
} from "./evaluation-memo.ts";
import { evaluationOrder, rememberedOrder } from "./evaluation-order.ts";
import { evaluate } from "./expression.ts";
import { type InstrumentErrors, measure } from "./measured.ts";
import type { Problem } from "./problem.ts";
import type { Result, Source } from "./quantity.ts";
import { type Definition, resolve, type Scope } from "./scope.ts";
import { columnValues } from "./series.ts";
import { type Around, beyondFirstOrder } from "./simulation.ts";

/** What one definition came to. */
export interface Evaluated {
  readonly definition: Definition;
  readonly result: Result;
  /** Problems found while working it out; spans relative to its line. */
  readonly problems: readonly Problem[];
}

export interface Evaluation {
  readonly scope: Scope;
  readonly byKey: ReadonlyMap<string, Evaluated>;
  /** The same in the order in which they were worked out. */
  readonly all: readonly Evaluated[];
  readonly circles: readonly (readonly Definition[])[];
  readonly names: NameTests;
  /** The values whose names pass a test. The question is told apart by `about`, an object that lasts. */
  named(about: object, test: (key: string) => boolean): readonly Evaluated[];
  /** The values whose names are one of these or end in one. The list of names has to be one that lasts. */
  endingIn(names: readonly string[]): readonly Evaluated[];
  /** A context for evaluating more (limits, workings) against the same note. */
  context(label: string, report: (problem: Problem) => undefined): Context;
  /** The same, which notes down in `used` every name that is asked for. */
  noting(label: string, report: (problem: Problem) => undefined, used: Use[]): Context;
}

const AMBIENT: Asked = { key: "ambient pressure", text: "ambient pressure" };

/** Logs that series take their rows from, by the key of the request. */
export type Logs = ReadonlyMap<string, LogReading>;
const NO_LOGS: Logs = new Map();

/** Works out every definition of a note, each after those it needs. */
export function evaluateAll(
  scope: Scope,
  shop: Shop,
  memo?: EvaluationMemo,
  logs: Logs = NO_LOGS,
): Evaluation {
  memo?.turnTo(shop);
  const { order, circles, same } = memo
    ? rememberedOrder(scope, memo.order)
    : { ...evaluationOrder(scope), same: false };
  const found: Evaluated[] = [];
  const byKey = new ByPlace(scope.places, found);
  const all: Evaluated[] = [];
  const world = worldOf(scope, shop, logs, byKey, memo?.assumed ?? new Map());
  const inCircle = circles.length > 0 ? new Set(circles.flat()) : undefined;
  for (const definition of order) {
    const evaluated = inCircle?.has(definition)
      ? { definition, result: undefined, problems: NO_PROBLEMS }
      : memo
        ? remembered(definition, world, memo, same)
        : workOut(definition, world, undefined);
    found[scope.places.get(definition.key) ?? found.length] = evaluated;
    all.push(evaluated);
  }
  const names = memo ? memo.namesOf(byKey, same) : new NameTests(byKey.keys());
  return {
    scope,
    byKey,
    all,
    circles,
    names,
    named: (about, test) => valuesOf(names.that(about, test), byKey),
    endingIn: (some) => valuesOf(names.endingIn(some), byKey),
    context: world.context,
    noting: (label, report, used) => noting(world.context(label, report), world, label, used),
  };
}

function valuesOf(keys: Iterable<string>, byKey: ReadonlyMap<string, Evaluated>): readonly Evaluated[] {
  const found: Evaluated[] = [];
  for (const key of keys) {
    const evaluated = byKey.get(key);
    if (evaluated) found.push(evaluated);
  }
  return found;
}

/** What a definition came to: as last time where nothing that it rests on has changed. */
function remembered(definition: Definition, world: World, memo: EvaluationMemo, same: boolean): Evaluated {
  const known = memo.values.get(definition.key);
  if (known && stillTrue(known, definition, world, memo, same)) {
    const { result, problems } = known.evaluated;
    // The definition tells where it stands now; keeping the old one would keep the text that it stood in.
    if (known.evaluated.definition !== definition) known.evaluated = { definition, result, problems };
    return known.evaluated;
  }
  const used: Use[] = [];
  const evaluated = workOut(definition, world, used);
  const syntax = identityOf(definition, memo, world.logs);
  memo.values.set(definition.key, { syntax, label: definition.block.label, used, evaluated });
  return evaluated;
}

/** The note around a definition while it is worked out. */
interface World {
  readonly scope: Scope;
  readonly byKey: ReadonlyMap<string, Evaluated>;
  readonly shop: Shop;
  readonly logs: Logs;
  readonly errors: InstrumentErrors;
  results(definition: Definition | undefined): Result | "missing";
  context(label: string, report: (problem: Problem) => undefined): Context;
}

function worldOf(
  scope: Scope,
  shop: Shop,
  logs: Logs,
  byKey: ReadonlyMap<string, Evaluated>,
  sources: Map<string, Source>,
): World {
  const assumed = (says: string, standard: number) => assumedSource(sources, says, standard);
  const results = (definition: Definition | undefined): Result | "missing" =>
    definition ? byKey.get(definition.key)?.result : "missing";
  return {
    scope,
    byKey,
    shop,
    logs,
    errors: instrumentErrors(assumed),
    results,
    context: (label, report) => ({
      lookup: (name) => results(resolve(scope, label, name)),
      nearestNames: (key) => nearest(key, scope.byKey.keys(), 3),
      report,
      ambient: () => ambientPressure(results(resolve(scope, label, AMBIENT)), shop, assumed),
      assumed,
      material: (key) => shop.materials.get(key),
      materialNames: () => [...shop.materials.values()].map((material) => material.id),
      units: shop.units,
      formulas: shop.formulas,
    }),
  };
}

function workOut(definition: Definition, world: World, used: Use[] | undefined): Evaluated {
  const { body, block, key } = definition;
  if (body.kind === "column") {
    return {
      definition,
      result: columnValues(definition, world.logs, world.shop.units),
      problems: NO_PROBLEMS,
    };
  }
  const { syntax } = body;
  if (syntax.problems.length > 0 || syntax.kind === "broken")
    return { definition, result: undefined, problems: NO_PROBLEMS };
  const problems: Problem[] = [];
  if (syntax.kind === "measured") {
    return { definition, result: measure(syntax, key, world.shop, world.errors, problems), problems };
  }
  const context = world.context(block.label, (problem) => {
    problems.push(problem);
    return undefined;
  });
  const first = evaluate(syntax.formula, used ? noting(context, world, block.label, used) : context);
  const simulated =
    first?.kind === "quantity"
      ? beyondFirstOrder(syntax.formula, first, aroundIn(world, block.label, context))
      : first;
  const result = inDisplayUnit(syntax, simulated, problems, world.shop.units);
  return { definition, result, problems };
}

/** The formulas behind names, for working a value out from its readings. */
const aroundIn = (world: World, label: string, context: Context): Around => ({
  context,
  derivation: (name) => {
    const definition = resolve(world.scope, label, name);
    if (definition?.body.kind !== "line" || definition.body.syntax.kind !== "formula") return undefined;
    const own = definition.block.label;
    const inner = world.context(own, () => undefined);
    return { formula: definition.body.syntax.formula, around: aroundIn(world, own, inner) };
  },
});

const NO_PROBLEMS: readonly Problem[] = [];

/** The same context, which also notes down every name that was asked for and what it was. */
function noting(context: Context, world: World, label: string, used: Use[]): Context {
  const note = (name: Asked) => {
    const target = resolve(world.scope, label, name);
    const use = { name, key: target?.key, result: world.results(target) };
    used.push(use);
    return use.result;
  };
  return {
    ...context,
    lookup: note,
    ambient: () => {
      note(AMBIENT);
      return context.ambient();
    },
  };
}

/** Whether a remembered value's line is the same, and everything it used still means and equals what it did. */
function stillTrue(
  remembered: Remembered,
  definition: Definition,
  world: World,
  memo: EvaluationMemo,
  same: boolean,
): boolean {
  const { label } = definition.block;
  if (remembered.syntax !== identityOf(definition, memo, world.logs) || remembered.label !== label)
    return false;
  const { used, evaluated } = remembered;
  // The names are those of last time, so each still leads where it led.
  if (same) return sameResults(used, world.byKey);
  // What is offered for an unknown name depends on all names there are.
  if (evaluated.problems.some((problem) => problem.rule === "reading/undefined")) return false;
  // A name that leads elsewhere now counts even where neither has a value yet: from here on only the place that
  // it led to is looked at.
  return used.every(({ name, key, result }) => {
    const target = resolve(world.scope, label, name);
    return target?.key === key && world.results(target) === result;
  });
}

const identityOf = ({ body, block }: Definition, memo: EvaluationMemo, logs: Logs): unknown =>
  body.kind === "line" ? body.syntax : seriesIdentity(block, memo, logs);

/** One object for a series as long as all of its lines and its log stay the same, whatever moves around it. */
function seriesIdentity(block: Block, memo: EvaluationMemo, logs: Logs): unknown {
  const known = memo.series.get(block.label);
  const log = block.kind === "series" ? logOf(block, logs) : undefined;
  const lines = block.content.trees;
  const same =
    known &&
    known.log === log &&
    known.lines.length === lines.length &&
    (known.lines === lines || known.lines.every((syntax, i) => syntax === lines[i]));
  if (same) return known;
  const made = { lines, log };
  memo.series.set(block.label, made);
  return made;
}
