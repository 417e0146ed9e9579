import type { FormulaLine, Name } from "../language/syntax.ts";
import type { Block } from "../note/note.ts";
import { STANDARD_PRESSURE, standardPressure } from "../physics/atmosphere.ts";
import type { Instrument, Shop } from "../shop/shop.ts";
import { nearest } from "../text/nearest.ts";
import { PRESSURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import type { Unit } from "../units/unit.ts";
import { asOperand } from "./arithmetic.ts";
import type { Context } from "./context.ts";
import { evaluate } from "./expression.ts";
import { type InstrumentErrors, measure } from "./measured.ts";
import type { Problem } from "./problem.ts";
import type { Quantity, Result, Source } from "./quantity.ts";
import { type Definition, OrderMemo, rememberedOrder, resolve, type Scope } from "./scope.ts";
import { columnValues } from "./series.ts";

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
  /** A context for evaluating more (limits, workings) against the same note. */
  context(label: string, report: (problem: Problem) => undefined): Context;
}

/** What was worked out last time, so that only what a change touches is worked out again. */
export class EvaluationMemo {
  shop: Shop | undefined;
  byKey = new Map<string, Remembered>();
  /** Lines of each series by its label. */
  readonly series = new Map<string, readonly unknown[]>();
  /** Sources that stand for the same cause wherever it appears. */
  readonly assumed = new Map<string, Source>();
  readonly order = new OrderMemo();
}

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

/** Works out every definition of a note, each after those it needs. */
export function evaluateAll(scope: Scope, shop: Shop, memo = new EvaluationMemo()): Evaluation {
  if (memo.shop !== shop) {
    memo.byKey.clear();
    memo.assumed.clear();
    memo.shop = shop;
  }
  const { order, circles, same } = rememberedOrder(scope, memo.order);
  const inCircle = new Set(circles.flat());
  const byKey = new Map<string, Evaluated>();
  const next = same ? memo.byKey : new Map<string, Remembered>();
  const errors = instrumentErrors(memo);
  const keys = () => [...scope.byKey.keys()];
  const results = (definition: Definition | undefined): Result | "missing" =>
    definition ? byKey.get(definition.key)?.result : "missing";

  const context = (label: string, report: (problem: Problem) => undefined): Context => ({
    lookup: (name) => results(resolve(scope, label, name)),
    nearestNames: (key) => nearest(key, keys(), 3),
    report,
    ambient: () =>
      ambientPressure(results(resolve(scope, label, AMBIENT)), shop, (says, standard) =>
        assumedSource(memo, says, standard),
      ),
    assumed: (says, standard) => assumedSource(memo, says, standard),
  });

  /** Whether everything that a remembered value used still means and equals what it did. */
  const stillTrue = ({ used, evaluated }: Remembered, label: string): boolean => {
    if (same) {
      // The names are those of last time, so each still leads where it led.
      return used.every(
        ({ key, result }) => (key === undefined ? "missing" : byKey.get(key)?.result) === result,
      );
    }
    // What is offered for an unknown name depends on all names there are.
    if (evaluated.problems.some((problem) => problem.rule === "reading/undefined")) return false;
    return used.every(({ name, result }) => results(resolve(scope, label, name)) === result);
  };

  const workOut = (definition: Definition): Evaluated => {
    const { body, block } = definition;
    const used: Use[] = [];
    const syntax = body.kind === "line" ? body.syntax : seriesIdentity(definition.block, memo);
    const remembered = memo.byKey.get(definition.key);
    if (
      remembered !== undefined &&
      remembered.syntax === syntax &&
      remembered.label === block.label &&
      stillTrue(remembered, block.label)
    ) {
      if (!same) next.set(definition.key, remembered);
      const { evaluated } = remembered;
      return { definition, result: evaluated.result, problems: evaluated.problems };
    }
    const problems: Problem[] = [];
    const report = (problem: Problem) => {
      problems.push(problem);
      return undefined;
    };
    const base = context(block.label, report);
    const noting: Context = {
      ...base,
      lookup: (name: Name) => {
        const found = base.lookup(name);
        used.push({ name, key: resolve(scope, block.label, name)?.key, result: found });
        return found;
      },
      ambient: () => {
        const own = resolve(scope, block.label, AMBIENT);
        used.push({ name: AMBIENT, key: own?.key, result: results(own) });
        return base.ambient();
      },
    };
    let result: Result;
    if (inCircle.has(definition)) result = undefined;
    else if (body.kind === "column") result = columnValues(definition);
    else if (body.syntax.problems.length > 0) result = undefined;
    else if (body.syntax.kind === "measured")
      result = measure(body.syntax, definition.key, shop, errors, problems);
    else if (body.syntax.kind === "formula") result = formulaResult(body.syntax, noting, problems);
    const evaluated = { definition, result, problems };
    // A name that was missing stays watched through `used`; a circle's members are always worked out again.
    if (!inCircle.has(definition)) next.set(definition.key, { syntax, label: block.label, used, evaluated });
    return evaluated;
  };

  for (const definition of order) byKey.set(definition.key, workOut(definition));
  memo.byKey = next;
  return { scope, byKey, circles, context };
}

/** One object for a series as long as all of its lines stay the same, whatever moves around it. */
function seriesIdentity(block: Block, memo: EvaluationMemo): unknown {
  const known = memo.series.get(block.label);
  const same =
    known &&
    known.length === block.lines.length &&
    known.every((syntax, i) => syntax === block.lines[i]?.syntax);
  if (same) return known;
  const made = block.lines.map((line) => line.syntax);
  memo.series.set(block.label, made);
  return made;
}

function formulaResult(line: FormulaLine, context: Context, problems: Problem[]): Result {
  const result = evaluate(line.formula, context);
  if (result?.kind !== "quantity" || !line.displayUnit) return result;
  return inAskedUnit(result, line.displayUnit, line.formula.span, problems);
}

/** The result with the unit its name asks for in brackets, when the dimensions allow. */
function inAskedUnit(
  result: Quantity,
  asked: { span: { from: number; to: number }; text: string },
  formula: { from: number; to: number },
  problems: Problem[],
): Quantity | undefined {
  const reading = readUnit(asked.text);
  if (!reading.ok) {
    problems.push({ rule: "unit/unknown", span: asked.span, spelling: asked.text, reading });
    return result;
  }
  const { unit } = reading;
  if (unit.dimension !== result.dimension) {
    problems.push({
      rule: "unit/mismatch",
      case: "shown unit",
      span: asked.span,
      got: asOperand({ span: formula, quantity: result }),
      asked: { span: asked.span, dimension: unit.dimension, scale: unit.scale, unit: asked.text },
    });
    return undefined;
  }
  const shown = showable(unit, result);
  if (shown) return { ...result, unit: shown };
  problems.push({
    rule: "unit/mismatch",
    case: "shown unit",
    span: asked.span,
    got: asOperand({ span: formula, quantity: result }),
    asked: { span: asked.span, dimension: unit.dimension, scale: unit.scale, unit: asked.text },
  });
  return undefined;
}

/** The unit fit to show a quantity of this scale, or undefined where the two cannot go together. */
export function showable(unit: Unit, quantity: Quantity): Unit | undefined {
  if (unit.scale === quantity.scale) return unit;
  if (unit.dimension === PRESSURE) {
    // A bare pressure unit shows any pressure but an absolute one; for that it must say so itself.
    if (quantity.scale === "absolute") return undefined;
    return unit.scale === "absolute" ? (quantity.scale === "plain" ? unit : undefined) : unit;
  }
  if (unit.scale === "point") return quantity.scale === "kelvin" ? unit : undefined;
  if (quantity.scale === "point") return unit.scale === "kelvin" ? unit : undefined;
  return unit;
}

/**
 * Half-widths of what the ambient pressure may be off by when nobody read it, in pascals: the weather moves
 * it by some 3 kPa, and an unknown altitude by as much again. Common practice, no source.
 */
const WEATHER = 3000;
const WEATHER_AND_ALTITUDE = 6000;

function ambientPressure(
  own: Result | "missing",
  shop: Shop,
  assumed: (says: string, standard: number) => Source,
): { quantity: Quantity; says: string | undefined } {
  if (own && own !== "missing" && own.kind === "quantity" && own.dimension === PRESSURE) {
    return { quantity: own, says: undefined };
  }
  const reading = readUnit("kPa(a)");
  const unit = reading.ok ? reading.unit : undefined;
  const si = shop.altitude === undefined ? STANDARD_PRESSURE : standardPressure(shop.altitude);
  const halfWidth = shop.altitude === undefined ? WEATHER_AND_ALTITUDE : WEATHER;
  const kPa = (si / 1000).toFixed(1);
  const whence = shop.altitude === undefined ? "the standard atmosphere" : "from the shop's altitude";
  const says = `ambient pressure ${kPa} ± ${halfWidth / 1000} kPa, ${whence}, as the note has no \`ambient pressure\``;
  const by = new Map([[assumed(says, halfWidth / Math.sqrt(3)), 1]]);
  return { quantity: { kind: "quantity", si, dimension: PRESSURE, scale: "absolute", unit, by }, says };
}

function assumedSource(memo: EvaluationMemo, says: string, standard: number): Source {
  const key = `${says}\u0000${standard}`;
  const known = memo.assumed.get(key);
  if (known) return known;
  const made: Source = { says: `assumed: ${says}`, standard };
  memo.assumed.set(key, made);
  return made;
}

function instrumentErrors(memo: EvaluationMemo): InstrumentErrors {
  return {
    sharedZero: (instrument: Instrument) =>
      assumedSource(memo, `zero of ${instrument.id}`, (instrument.split?.zero ?? 0) / Math.sqrt(3)),
    sharedGain: (instrument: Instrument) =>
      assumedSource(memo, `gain of ${instrument.id}`, (instrument.split?.gain ?? 0) / Math.sqrt(3)),
  };
}
