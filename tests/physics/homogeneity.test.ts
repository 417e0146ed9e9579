/**
 * Dimensional homogeneity: with every unit of length, mass, time, current and temperature changed at will, a
 * formula without constants of nature gives the same physical result.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FormulaFunction } from "../../server/src/physics/function.ts";
import type { Dimension } from "../../server/src/units/dimension.ts";
import { AMBIENT, type Arguments, call, functionNamed, inputsOf } from "./call.ts";
import { sampleCalls } from "./sample-calls.ts";

/** Functions whose formula holds no constant with a dimension. */
const WITHOUT_CONSTANTS = [
  ...["decay leak rate", "fill time", "breathed volume", "sealed pressure", "force on", "bubble leak rate"],
  ...["run time", "reserve left", "supply sag", "bead volume", "tubes"],
];

/** The factor by which the number for a quantity of this dimension changes when the base units do. */
const scaleOf = (dimension: Dimension, factors: readonly number[]): number =>
  dimension.exponents.reduce((product, exponent, i) => product * (factors[i] ?? 1) ** exponent, 1);

/** Every quantity that the call rests on, defaults included, in other base units. */
function rescaled(entry: FormulaFunction, args: Arguments, factors: readonly number[]): Arguments {
  const inputs = inputsOf(entry, args);
  const changed: Record<string, number | string | readonly number[]> = { ...args };
  for (const { name, takes } of entry.parameters) {
    const value = takes.kind === "quantity" ? inputs.maybe(name)?.v : undefined;
    if (value === undefined || takes.kind !== "quantity" || takes.dimension === "any") continue;
    changed[name] = value * scaleOf(takes.dimension, factors);
  }
  return changed;
}

const factor = fc.double({ min: 0.01, max: 100, noNaN: true });

describe("dimensional homogeneity", () => {
  for (const name of WITHOUT_CONSTANTS)
    it(name, () => {
      const entry = functionNamed(name);
      const { dimension } = entry.gives;
      if (!("id" in dimension)) throw new Error("a fixed dimension is needed");
      fc.assert(
        fc.property(fc.tuple(factor, factor, factor, factor, factor), (factors) => {
          for (const args of sampleCalls.get(name) ?? []) {
            const before = call(name, args);
            const after = call(name, rescaled(entry, args, factors));
            // The pressures of a sealed volume are small beside ambient, whose digits set what can be kept.
            const size = Math.max(Math.abs(before), name === "sealed pressure" ? AMBIENT : 0);
            const change = Math.abs(after / scaleOf(dimension, factors) - before);
            expect(change).toBeLessThanOrEqual(1e-9 * size);
          }
        }),
      );
    });
});
