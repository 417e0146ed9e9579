/**
 * Propagation of distributions (JCGM 101:2008) against the first-order result from the exact partials
 * (JCGM 100:2008, 5.1), for every function near a sample call where it is close to linear. Fixed seed.
 */
import { describe, expect, it } from "vitest";
import { constant, type Dual } from "../../server/src/physics/dual.ts";
import type { FormulaFunction, Inputs } from "../../server/src/physics/function.ts";
import { TEMPERATURE } from "../../server/src/units/dimension.ts";
import { type Arguments, functionNamed, inputsOf } from "./call.ts";
import { sampleCalls } from "./sample-calls.ts";

const DRAWS = 200_000;
/** Relative standard uncertainty of every argument; of temperatures in kelvin. */
const RELATIVE = 0.002;
const KELVINS = 0.1;

/** Normal deviates by Box and Muller from a 32-bit xorshift generator: the same everywhere. */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

interface Argument {
  readonly name: string;
  readonly index: number;
  readonly at: number;
  readonly standard: number;
}

/** The uncertain arguments of a call; one at the edge of what is allowed is taken as exact. */
const uncertain = (entry: FormulaFunction, inputs: Inputs): readonly Argument[] =>
  entry.parameters.flatMap(({ name, takes, optional }, index) => {
    const at = takes.kind === "quantity" ? inputs.maybe(name)?.v : undefined;
    const edge = optional && "tolerance" in optional && optional.tolerance === 0 && !inputs.given(name);
    if (at === undefined || at === 0 || edge || takes.kind !== "quantity") return [];
    const standard = takes.dimension === TEMPERATURE ? KELVINS : RELATIVE * Math.abs(at);
    return [{ name, index, at, standard }];
  });

/** The same inputs with some quantities replaced by drawn ones. */
const drawn = (inputs: Inputs, values: ReadonlyMap<string, Dual>): Inputs => ({
  ...inputs,
  quantity: (name) => values.get(name) ?? inputs.quantity(name),
  maybe: (name) => values.get(name) ?? inputs.maybe(name),
});

function compare(name: string, args: Arguments): { firstOrder: number; simulated: number } {
  const entry = functionNamed(name);
  const inputs = inputsOf(entry, args);
  const best = entry.compute(inputs);
  if (!best.ok) throw new Error(best.says);
  const varied = uncertain(entry, inputs);
  const firstOrder = Math.hypot(...varied.map((a) => (best.value.d[a.index] ?? 0) * a.standard));
  const normal = normals(20_310_304);
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < DRAWS; i++) {
    const values = new Map(varied.map((a) => [a.name, constant(a.at + a.standard * normal())]));
    const result = entry.compute(drawn(inputs, values));
    if (!result.ok) throw new Error(result.says);
    const off = result.value.v - best.value.v;
    sum += off;
    squares += off * off;
  }
  return { firstOrder, simulated: Math.sqrt((squares - (sum * sum) / DRAWS) / (DRAWS - 1)) };
}

/** A gauge is a label, an En number a verdict: neither carries an uncertainty on. */
const WITHOUT = new Set(["en number"]);

describe("simulation agrees with first order", { timeout: 60_000 }, () => {
  for (const [name, [args = {}]] of sampleCalls) {
    const entry = functionNamed(name);
    if (WITHOUT.has(name) || entry.parameters.some((p) => p.takes.kind === "samples")) continue;
    it(`${name} ${JSON.stringify(args)}`, () => {
      const { gauge, ...rest } = args;
      const call = gauge === undefined ? args : { ...rest, section: 3.31e-6 };
      const { firstOrder, simulated } = compare(name, call);
      expect(firstOrder).toBeGreaterThan(0);
      // Five standard errors of a standard deviation from so many draws, and what curvature adds.
      expect(Math.abs(simulated / firstOrder - 1)).toBeLessThan(5 / Math.sqrt(2 * DRAWS) + 0.005);
    });
  }
});
