import { describe, expect, it } from "vitest";
import { constant, variable } from "../../server/src/physics/dual.ts";
import type { FormulaFunction } from "../../server/src/physics/function.ts";
import { findFunction, formulaFunctions } from "../../server/src/physics/registry.ts";
import { readUnit } from "../../server/src/units/index.ts";
import { type Arguments, call, functionNamed, inputsOf, inUnit, outcome } from "./call.ts";
import { noteValue } from "./reference/note-value.ts";
import { sampleCalls } from "./sample-calls.ts";

/** Names that notes in the field rely on. */
const NAMES = [
  ["orifice flow", "orifice size", "decay leak rate", "decay time", "standard flow", "fill time"],
  ["sealed pressure", "breathed volume", "bubble leak rate", "depth pressure", "force on"],
  ["saturation pressure", "dew point", "relative humidity", "humidity ratio", "water in air", "wet bulb"],
  ["dew margin", "drying time", "water breathed", "charge state", "run time", "reserve left"],
  ["draw per day", "wire drop", "wire resistance", "supply sag", "bead volume", "tubes", "skin time"],
  ["cure time", "scaled", "full scale error", "mean", "spread", "least", "greatest", "count", "slope"],
  ["fit decay", "span", "difference", "en number"],
].flat();

describe("the registry", () => {
  it("holds every function under its fixed name, found whatever the case", () => {
    expect(formulaFunctions.map((f) => f.name).sort()).toEqual([...NAMES].sort());
    for (const name of NAMES) expect(findFunction(name.toUpperCase())?.name).toBe(name);
    expect(findFunction("no such function")).toBeUndefined();
  });

  it("has a sample call of every function for the checks that follow", () => {
    expect([...sampleCalls.keys()].sort()).toEqual([...NAMES].sort());
  });

  for (const entry of formulaFunctions)
    it(`${entry.name}: says what it rests on, in whole entries`, () => {
      for (const text of [entry.says, entry.equation, entry.validity, entry.source])
        expect(text.length).toBeGreaterThan(4);
      expect(entry.assumes.length).toBeGreaterThan(0);
      expect(entry.examples.length).toBeGreaterThan(0);
      const names = entry.parameters.map((p) => p.name);
      expect(new Set(names).size).toBe(names.length);
      for (const name of [entry.name, ...names]) expect(name).toMatch(/^[a-z]+( [a-z]+)*$/);
      const firstOptional = entry.parameters.findIndex((p) => p.optional);
      const lastNeeded = entry.parameters.findLastIndex((p) => !p.optional);
      if (firstOptional >= 0) expect(lastNeeded).toBeLessThan(firstOptional);
    });

  for (const entry of formulaFunctions)
    it(`${entry.name}: units of results, arguments and defaults are of the stated dimension`, () => {
      if (entry.gives.unit && "id" in entry.gives.dimension)
        expectUnit(entry.gives.unit, entry.gives.dimension.id);
      for (const { takes, optional } of entry.parameters) {
        if (takes.kind !== "quantity" || takes.dimension === "any") continue;
        if (takes.unit) expectUnit(takes.unit, takes.dimension.id);
        if (optional && "unit" in optional) expectUnit(optional.unit, takes.dimension.id);
      }
    });
});

function expectUnit(spelling: string, dimension: string): void {
  const reading = readUnit(spelling);
  expect(reading.ok && reading.unit.dimension.id, spelling).toBe(dimension);
}

/** The partial derivative by central difference, with Richardson's extrapolation. */
function slope(entry: FormulaFunction, args: Arguments, name: string, at: number): number {
  const value = (x: number): number => call(entry.name, { ...args, [name]: x });
  const central = (h: number): number => (value(at + h) - value(at - h)) / (2 * h);
  // A step that suits kelvins and pascals alike: a small share of the value, or of one where it is zero.
  const h = 1e-4 * (Math.abs(at) > 0 ? Math.abs(at) : 1);
  return (4 * central(h / 2) - central(h)) / 3;
}

describe("every partial derivative agrees with central differences", () => {
  for (const [name, calls] of sampleCalls)
    for (const args of calls)
      it(`${name} ${JSON.stringify(args)}`, () => {
        const entry = functionNamed(name);
        const inputs = inputsOf(entry, args);
        const result = outcome(name, args);
        if (!result.ok) throw new Error(result.says);
        expect(result.value.d.length).toBeLessThanOrEqual(entry.parameters.length);
        entry.parameters.forEach((parameter, index) => {
          if (parameter.takes.kind !== "quantity" || NO_PARTIALS.has(`${name}.${parameter.name}`)) return;
          const at = inputs.maybe(parameter.name)?.v;
          if (at === undefined || ONE_SIDED.has(`${name}.${parameter.name}`)) return;
          const filled = { ...args, ...(args[parameter.name] === undefined ? { [parameter.name]: at } : {}) };
          const expected = slope(entry, filled, parameter.name, at);
          const got = result.value.d[index] ?? 0;
          // Noise of the differences: the value's last digits over the step.
          const noise = (1e-11 * Math.abs(result.value.v)) / (1e-4 * (Math.abs(at) || 1));
          expect(Math.abs(got - expected), parameter.name).toBeLessThanOrEqual(
            2e-6 * Math.abs(expected) + noise,
          );
        });
      });
});

/** Arguments that carry no derivative on purpose: a gauge is a label, and the En number is a verdict. */
const NO_PARTIALS: ReadonlySet<string> = new Set([
  "wire drop.gauge",
  "en number.first",
  "en number.second",
  "en number.first uncertainty",
  "en number.second uncertainty",
]);
/** Defaults at the edge of what is allowed, where a difference to both sides is refused. */
const ONE_SIDED: ReadonlySet<string> = new Set(["run time.reserve", "reserve left.charge", "fill time.leak"]);

describe("derivatives at the edges that central differences leave out", () => {
  it("are the one-sided ones", () => {
    const step = 1e-6;
    const cases: readonly (readonly [string, Arguments, string, number, number])[] = [
      ["run time", { capacity: 252000, current: 12 }, "reserve", 0, step],
      ["reserve left", { capacity: 252000, current: 12, time: 5400 }, "charge", 1, -step],
      ["fill time", { volume: 0.05, flow: 1.6e-4, pressure: 3487 }, "leak", 0, 1.6e-4 * step],
    ];
    for (const [name, args, parameter, at, h] of cases) {
      const entry = functionNamed(name);
      const result = outcome(name, { ...args, [parameter]: at });
      if (!result.ok) throw new Error(result.says);
      const expected = (call(name, { ...args, [parameter]: at + h }) - result.value.v) / h;
      const got = result.value.d[entry.parameters.findIndex((p) => p.name === parameter)] ?? 0;
      expect(Math.abs(got / expected - 1)).toBeLessThan(1e-5);
    }
  });
});

describe("dual numbers", () => {
  it("leave constants without partials and variables with one", () => {
    expect(constant(3).d).toEqual([]);
    expect(variable(3, 2).d).toEqual([0, 0, 1]);
  });
});

describe("the examples, read as lines of a note, give what they say", () => {
  for (const entry of formulaFunctions)
    for (const example of entry.examples)
      it(`${example.formula} [${example.source}]`, () => {
        const [, number = "", unit = ""] = /^(-?[\d.]+) ?(.*)$/.exec(example.gives) ?? [];
        const lines = example.formula.split("\n");
        const formula = lines.pop() ?? "";
        const readings = [...lines, unit ? `x [${unit}] = ${formula}` : `x = ${formula}`].join("\n");
        const decimals = number.split(".")[1]?.length ?? 0;
        expect(inUnit(noteValue(readings), unit || "1").toFixed(decimals)).toBe(number);
      });
});
