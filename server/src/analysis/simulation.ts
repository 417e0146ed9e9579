import type { Expression, Name } from "../language/syntax.ts";
import type { Context } from "./context.ts";
import { evaluate } from "./expression.ts";
import { COVERAGE, EXACT, type Quantity, type Result, type Source, scaled } from "./quantity.ts";
import { isSuspicious, takesSamples } from "./suspicion.ts";
import { Draws } from "./trials.ts";

/**
 * Where first order is not good enough, the uncertainty is simulated (JCGM 101:2008): the formula is worked
 * out for many trials with all its sources drawn at random, from a fixed seed, so that the same note always
 * gives the same figures. Three sieves keep it off the usual note:
 *
 * 1. For nothing: the formula may bend at all, and an input is uncertain by more than a fifth of itself, or
 *    one source makes out more than a fifth of the result, or a share comes near 0 or 100 %, or an uncertain
 *    input has no effect at first order (a value at a physical bound).
 * 2. For a handful of evaluations: moving each source to both ends of its limits, one by one and all
 *    together, shows that the formula does bend.
 * 3. For all trials: the spread differs from that of the same trials at first order by more than a twentieth.
 */
export function beyondFirstOrder(formula: Expression, result: Quantity, around: Around): Quantity {
  if (!isSuspicious(formula, result, around.context)) return result;
  const simulation = new Simulation(formula, result, around);
  if (!simulation.bends()) return result;
  return simulation.run();
}

/** The note around a formula. */
export interface Around {
  readonly context: Context;
  /** The formula behind a name, with the note around it; undefined for readings and unknown names. */
  derivation(name: Name): { readonly formula: Expression; readonly around: Around } | undefined;
}

/** Bend over slope at the ends of a source's limits above which first order is doubted. */
const BEND = 0.05;
const DIFFERENCE = 0.05;
const FIRST_TRIALS = 250;
const TRIALS = 1000;
/** Share of trials that may have no value; beyond it too little is left to go by. */
const MOST_LOST = 0.5;

/**
 * How many derived values a simulation works out anew in each trial, and how deep; what lies further back
 * counts at first order. A note may chain thousands of values, and each could ask for a simulation.
 */
const MOST_DERIVED = 24;
const DEEPEST = 8;

/** What a name stands for in a trial. */
type Meaning =
  | { readonly kind: "value"; readonly value: Result | "missing" }
  | {
      readonly kind: "derived";
      readonly formula: Expression;
      readonly context: Context;
      /** The trial that `value` is of: each value is worked out once a trial. */
      round: number;
      value: Result;
    };

class Simulation {
  readonly #formula: Expression;
  readonly #draws: Draws;
  readonly #context: Context;
  readonly #result: Quantity;
  #ambient: ReturnType<Context["ambient"]> | undefined;
  #derived = 0;
  #leaves = 0;
  #round = 0;

  constructor(formula: Expression, result: Quantity, around: Around) {
    this.#result = result;
    this.#draws = new Draws(result.by);
    const meanings = new Map<string, Meaning>();
    this.#formula = this.#withLeaves(formula, around.context, meanings);
    this.#context = this.#trialContext(around, meanings, 0);
  }

  /** The note as one trial has it: every name stands for what it is then. */
  #trialContext(around: Around, meanings: Map<string, Meaning>, depth: number): Context {
    const { context } = around;
    return {
      ...context,
      report: () => undefined,
      lookup: (name) => {
        let meaning = meanings.get(name.text);
        if (!meaning) {
          meaning = this.#meaningOf(name, around, depth);
          meanings.set(name.text, meaning);
        }
        if (meaning.kind === "derived") {
          if (meaning.round !== this.#round) {
            meaning.value = evaluate(meaning.formula, meaning.context);
            meaning.round = this.#round;
          }
          return meaning.value;
        }
        const { value } = meaning;
        return value && value !== "missing" && value.kind === "quantity" ? this.#moved(value) : value;
      },
      ambient: () => {
        this.#ambient ??= context.ambient();
        const { quantity, says } = this.#ambient;
        return { quantity: this.#moved(quantity), says };
      },
      trial: this.#draws,
    };
  }

  /**
   * A derived value is worked out anew in each trial, since at first order it would bend wrongly where its
   * causes come in again by another way.
   */
  #meaningOf(name: Name, around: Around, depth: number): Meaning {
    const value = around.context.lookup(name);
    const derivation = depth < DEEPEST && this.#derived < MOST_DERIVED ? around.derivation(name) : undefined;
    if (!derivation || !value || value === "missing" || value.kind !== "quantity" || value.by.size === 0) {
      return { kind: "value", value };
    }
    this.#derived++;
    const meanings = new Map<string, Meaning>();
    const formula = this.#withLeaves(derivation.formula, derivation.around.context, meanings);
    const context = this.#trialContext(derivation.around, meanings, depth + 1);
    return { kind: "derived", formula, context, round: -1, value: undefined };
  }

  /** Calls on repeated readings become leaves with their own uncertainty, since no trial repeats the readings. */
  #withLeaves(node: Expression, context: Context, meanings: Map<string, Meaning>): Expression {
    switch (node.kind) {
      case "call": {
        if (!takesSamples(node)) {
          const args = node.args.map((one) => ({
            ...one,
            value: this.#withLeaves(one.value, context, meanings),
          }));
          return { ...node, args };
        }
        const value = evaluate(node, { ...context, report: () => undefined });
        if (value?.kind !== "quantity") return node;
        // No name of a note starts with a blank, so none is hidden by it.
        const text = ` ${this.#leaves++}`;
        meanings.set(text, { kind: "value", value });
        return { kind: "name", span: node.span, name: { span: node.span, text, key: text } };
      }
      case "binary":
        return {
          ...node,
          left: this.#withLeaves(node.left, context, meanings),
          right: this.#withLeaves(node.right, context, meanings),
        };
      case "negate":
        return { ...node, operand: this.#withLeaves(node.operand, context, meanings) };
      default:
        return node;
    }
  }

  #moved(quantity: Quantity): Quantity {
    if (quantity.by.size === 0) return quantity;
    let si = quantity.si;
    for (const [source, c] of quantity.by) si += c * this.#draws.draw(source);
    const { sampling: _, ...rest } = quantity;
    return { ...rest, si, by: EXACT };
  }

  /** How far the result is off at the present draws; undefined where it has no value there. */
  #off(): number | undefined {
    this.#round++;
    const value = evaluate(this.#formula, this.#context);
    return value?.kind === "quantity" && Number.isFinite(value.si) ? value.si - this.#result.si : undefined;
  }

  bends(): boolean {
    this.#draws.still();
    // One run with everything at its best value makes known what sources there are, defaults among them.
    const rest = this.#off();
    if (rest === undefined || Math.abs(rest) > 1e-9 * Math.abs(this.#result.si)) return false;
    let sum = 0;
    for (const source of this.#draws.sources()) {
      this.#draws.alone(source, 1);
      const up = this.#off();
      this.#draws.alone(source, -1);
      const down = this.#off();
      if (up === undefined || down === undefined) return true;
      if (Math.abs(up + down) > BEND * Math.abs(up - down)) return true;
      sum += up;
    }
    this.#draws.together();
    const all = this.#off();
    return all === undefined || Math.abs(all - sum) > 2 * BEND * Math.abs(sum);
  }

  run(): Quantity {
    // A first look at few trials spares the others where first order does after all.
    const look = this.#spread(FIRST_TRIALS);
    if (look.lost <= MOST_LOST && Math.abs(look.ratio - 1) < DIFFERENCE / 2) return this.#result;
    const { ratio, spread, lost } = this.#spread(TRIALS);
    if (lost > MOST_LOST) {
      const simulated =
        "Its uncertainty is at first order only, and not to be relied on: over most of what the inputs may be, the formula has no value.";
      return { ...this.#result, simulated };
    }
    if (spread === 0 || Math.abs(ratio - 1) <= DIFFERENCE) return this.#result;
    const simulated = inWords(ratio, lost);
    // First order missed the cause: then the spread is a source of its own.
    if (!(ratio < 3)) {
      const own: Source = { says: "simulated trials", standard: spread / COVERAGE, normal: true };
      return { ...this.#result, by: new Map([[own, 1]]), simulated };
    }
    return { ...this.#result, by: scaled(this.#result.by, ratio), simulated };
  }

  /** How far trials lie from the best value, and how that compares with the same trials at first order. */
  #spread(trials: number): { readonly spread: number; readonly ratio: number; readonly lost: number } {
    const found: number[] = [];
    const straight: number[] = [];
    this.#draws.prepare(trials);
    for (let trial = 0; trial < trials; trial++) {
      this.#draws.at(trial);
      const off = this.#off();
      let first = 0;
      for (const [source, c] of this.#result.by) first += c * this.#draws.draw(source);
      straight.push(Math.abs(first));
      if (off !== undefined) found.push(Math.abs(off));
    }
    const spread = covering(found);
    return { spread, ratio: spread / covering(straight), lost: 1 - found.length / trials };
  }
}

/** The distance from the best value within which 95 of 100 trials lie. */
function covering(distances: readonly number[]): number {
  const sorted = Float64Array.from(distances).sort();
  return sorted[Math.ceil(0.95 * sorted.length) - 1] ?? 0;
}

function inWords(ratio: number, lost: number): string {
  const compared = !(ratio < 100)
    ? "first order finds none"
    : ratio > 1
      ? `${Number(ratio.toPrecision(2))} times what first order gives`
      : `${Number((ratio * 100).toPrecision(2))} % of what first order gives`;
  const without =
    lost > 0
      ? ` ${Number((lost * 100).toPrecision(2))} % of the trials lay outside what can be and were left out.`
      : "";
  return `The uncertainty is simulated (JCGM 101:2008, ${TRIALS} trials, fixed seed), ${compared}: an input is too uncertain, or too near what it can be, for first order.${without}`;
}
