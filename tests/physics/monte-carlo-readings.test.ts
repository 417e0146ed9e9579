/**
 * Propagation of distributions (JCGM 101:2008) for the functions that work on repeated readings and series: the
 * readings are drawn, and the uncertainty that the function states is held against how far its results really
 * scatter. Fixed seed, 200,000 draws.
 */
import { describe, expect, it } from "vitest";
import { typeA } from "../../server/src/analysis/measured.ts";
import { coverageWidening } from "../../server/src/physics/student-t.ts";
import { type Arguments, functionNamed, inputsOf } from "./call.ts";

const DRAWS = 200_000;
const SIGMA = 0.01;

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

interface Scattered {
  /** How far the results really scatter. */
  readonly real: number;
  /** What the function says of it, as the root of the mean square. */
  readonly stated: number;
}

function simulate(name: string, make: (noise: () => number) => Arguments): Scattered {
  const entry = functionNamed(name);
  const normal = normals(20_310_304);
  const noise = () => SIGMA * normal();
  let sum = 0;
  let squares = 0;
  let stated = 0;
  for (let i = 0; i < DRAWS; i++) {
    const outcome = entry.compute(inputsOf(entry, make(noise)));
    if (!outcome.ok) throw new Error(outcome.says);
    sum += outcome.value.v;
    squares += outcome.value.v ** 2;
    stated += (outcome.scatter?.standardUncertainty ?? 0) ** 2;
  }
  return {
    real: Math.sqrt((squares - sum ** 2 / DRAWS) / (DRAWS - 1)),
    stated: Math.sqrt(stated / DRAWS),
  };
}

/** Two constants are fitted to twelve rows; few rows widen what is stated (JCGM 100:2008, annex G, from memory). */
const WIDENED = coverageWidening(12 - 2);

const times = Array.from({ length: 12 }, (_, i) => i * 30);

describe("what is said of scatter is how results scatter", { timeout: 120_000 }, () => {
  it("mean: its standard error, and the part that widens it for few readings", () => {
    const n = 10;
    const normal = normals(7);
    let real = 0;
    let stated = 0;
    for (let i = 0; i < DRAWS; i++) {
      const values = Array.from({ length: n }, () => 5 + SIGMA * normal());
      const mean = values.reduce((a, b) => a + b, 0) / n;
      real += (mean - 5) ** 2;
      stated += typeA(values, mean) ** 2;
    }
    expect(Math.sqrt(stated / real)).toBeCloseTo(coverageWidening(n - 1), 2);
  });

  it("spread", () => {
    const { real, stated } = simulate("spread", (noise) => ({
      readings: Array.from({ length: 30 }, () => 5 + noise()),
    }));
    // s / √(2(n − 1)) is itself an approximation, good to a percent for thirty readings.
    expect(Math.abs(stated / real - 1)).toBeLessThan(0.02);
  });

  it("slope", () => {
    const { real, stated } = simulate("slope", (noise) => ({
      values: times.map((t) => 3000 - 2 * t + noise()),
      against: times,
    }));
    expect(Math.abs(stated / real / WIDENED - 1)).toBeLessThan(0.01);
  });

  it("fit decay", () => {
    const { real, stated } = simulate("fit decay", (noise) => ({
      values: times.map((t) => 3 * Math.exp(-t / 120) + noise()),
      against: times,
    }));
    expect(Math.abs(stated / real / WIDENED - 1)).toBeLessThan(0.02);
  });

  it("least and greatest move by what all readings share, and count by nothing", () => {
    for (const [name, moves] of [
      ["least", 1],
      ["greatest", 1],
      ["span", 0],
      ["count", 0],
    ] as const) {
      const { real } = simulate(name, (noise) => {
        const shared = noise();
        return { readings: [5, 5.2, 5.1].map((reading) => reading + shared) };
      });
      expect(real / SIGMA).toBeCloseTo(moves, 2);
      expect(functionNamed(name).gives.carries ?? "none").toBe(moves === 1 ? "shared" : "none");
    }
  });

  it("en number: of two that agree, one in twenty-two is told apart (twice the standard uncertainty)", () => {
    const entry = functionNamed("en number");
    const normal = normals(11);
    let agree = 0;
    for (let i = 0; i < DRAWS; i++) {
      const outcome = entry.compute(
        inputsOf(entry, {
          first: 5 + 0.01 * normal(),
          second: 5 + 0.02 * normal(),
          "first uncertainty": 0.02,
          "second uncertainty": 0.04,
        }),
      );
      if (outcome.ok && outcome.value.v <= 1) agree++;
    }
    // 95.45 % of a normal distribution lies within two standard deviations.
    expect(agree / DRAWS).toBeCloseTo(0.9545, 2);
  });
});
