import type { Name } from "../language/syntax.ts";
import type { Block } from "../note/note.ts";
import { type LogReading, logOf } from "../note/series-log.ts";
import type { Shop } from "../shop/shop.ts";
import { nearest } from "../text/nearest.ts";
import { ambientPressure, assumedSource, instrumentErrors } from "./assumed.ts";
import type { Context } from "./context.ts";
import { inDisplayUnit } from "./display-unit.ts";
import { evaluate } from "./expression.ts";
import { type InstrumentErrors, measure } from "./measured.ts";
import type { Problem } from "./problem.ts";
import type { Result, Source } from "./quantity.ts";
import {
  type Definition,
  evaluationOrder,
  OrderMemo,
  rememberedOrder,
  resolve,
  type Scope,
} from "./scope.ts";
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
  readonly circles: readonly (readonly Definition[])[];
  /**
   * The values whose names pass a test. The question is told apart by `about`, an object that lasts, so that an
   * editor finds the names again without testing each at every keystroke.
   */
  named(about: object, test: (key: string) => boolean): readonly Evaluated[];
  /** The names that pass a test; the same names as long as an editor changes none of them. */
  names(about: object, test: (key: string) => boolean): ReadonlySet<string>;
  /** A context for evaluating more (limits, workings) against the same note. */
  context(label: string, report: (problem: Problem) => undefined): Context;
}

/** What was worked out last time, so that only what a change touches is worked out again. */
export class EvaluationMemo {
  shop: Shop | undefined;
  byKey = new Map<string, Remembered>();
  /** Lines of each series by its label. */
  readonly series = new Map<
    string,
    { readonly lines: readonly unknown[]; readonly log: LogReading | undefined }
  >();
  /** Sources that stand for the same cause wherever it appears. */
  readonly assumed = new Map<string, Source>();
  readonly order = new OrderMemo();
  /** Names that passed a test, for as long as the names stay the same. */
  named: NamesFound = new Map();
}

type NamesFound = Map<object, ReadonlySet<string>>;

interface Remembered {
  readonly syntax: unknown;
  readonly label: string;
  /** What each name meant when it was worked out. */
  readonly used: readonly Use[];
  readonly evaluated: Evaluated;
}

interface Use {
  readonly name: Asked;
  /** The full key that the name stood for; undefined when nothing defined it. */
  readonly key: string | undefined;
  readonly result: Result | "missing";
}

type Asked = Pick<Name, "key" | "text">;
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
  if (memo && memo.shop !== shop) {
    memo.byKey.clear();
    memo.assumed.clear();
    memo.shop = shop;
  }
  const { order, circles, same } = memo
    ? rememberedOrder(scope, memo.order)
    : { ...evaluationOrder(scope), same: false };
  const byKey = new Map<string, Evaluated>();
  const world = worldOf(scope, shop, logs, byKey, memo?.assumed ?? new Map());
  const inCircle = circles.length > 0 ? new Set(circles.flat()) : undefined;
  const next = same && memo ? memo.byKey : new Map<string, Remembered>();
  for (const definition of order) {
    const { key } = definition;
    if (inCircle?.has(definition)) {
      byKey.set(key, { definition, result: undefined, problems: [] });
      continue;
    }
    const remembered = memo?.byKey.get(key);
    if (memo && remembered && stillTrue(remembered, definition, world, memo, same)) {
      if (!same) next.set(key, remembered);
      const { evaluated } = remembered;
      const { result, problems } = evaluated;
      byKey.set(key, evaluated.definition === definition ? evaluated : { definition, result, problems });
      continue;
    }
    const used: Use[] | undefined = memo ? [] : undefined;
    const evaluated = workOut(definition, world, used);
    byKey.set(key, evaluated);
    if (memo && used) {
      next.set(key, {
        syntax: identityOf(definition, memo, logs),
        label: definition.block.label,
        used,
        evaluated,
      });
    }
  }
  const namesFound: NamesFound = same && memo ? memo.named : new Map();
  if (memo) {
    memo.byKey = next;
    memo.named = namesFound;
  }
  const names = (about: object, test: (key: string) => boolean): ReadonlySet<string> => {
    const known = namesFound.get(about);
    if (known) return known;
    const made = new Set<string>();
    for (const key of byKey.keys()) if (test(key)) made.add(key);
    namesFound.set(about, made);
    return made;
  };
  const named = (about: object, test: (key: string) => boolean): readonly Evaluated[] => {
    const found: Evaluated[] = [];
    for (const key of names(about, test)) {
      const evaluated = byKey.get(key);
      if (evaluated) found.push(evaluated);
    }
    return found;
  };
  return { scope, byKey, circles, named, names, context: world.context };
}

/** The note around a definition while it is worked out. */
interface World {
  readonly scope: Scope;
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
  if (same) {
    // The names are those of last time, so each still leads where it led.
    return used.every(
      ({ key, result }) =>
        world.results(key === undefined ? undefined : world.scope.byKey.get(key)) === result,
    );
  }
  // What is offered for an unknown name depends on all names there are.
  if (evaluated.problems.some((problem) => problem.rule === "reading/undefined")) return false;
  return used.every(({ name, result }) => world.results(resolve(world.scope, label, name)) === result);
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
