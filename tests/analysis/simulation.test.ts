// Where first order is not good enough the checker simulates (JCGM 101:2008), from a fixed seed, and says so.
import { describe, expect, test } from "vitest";
import { EvaluationMemo } from "../../server/src/analysis/evaluation-memo.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";

function worked(lines: string, name = "y") {
  const analysis = analyzeText(readings(lines));
  const value = analysis.values.find((one) => one.name === name);
  if (value?.shown?.kind !== "quantity") throw new Error(`no value ${name}`);
  const { assumptions } = analysis.working(value);
  return {
    value: value.shown.value,
    uncertainty: value.shown.uncertainty ?? Number.NaN,
    says: assumptions.find((text) => text.includes("simulated")),
    assumptions,
  };
}

/** Distance from the best value that covers 95 of 100 trials, by plain random draws of the test's own. */
function simulated(best: number, draw: (uniform: () => number) => number, trials = 200_000): number {
  let state = 20_310_304;
  const uniform = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  const off = Float64Array.from({ length: trials }, () => Math.abs(draw(uniform) - best)).sort();
  return off[Math.ceil(0.95 * trials) - 1] ?? 0;
}

/** A rectangle's expanded uncertainty (k = 2) over the distance that covers 95 % of it. */
const RECTANGLE = 2 / Math.sqrt(3) / 0.95;

describe("simulates", () => {
  test("a square of something uncertain by more than a fifth", () => {
    const found = worked("x: 1.0 m ± 0.9 m\ny [m2] = x ^ 2");
    expect(found.value).toBe(1);
    expect(found.says).toContain("JCGM 101");
    const expected = simulated(1, (uniform) => (1 + 0.9 * (2 * uniform() - 1)) ** 2) * RECTANGLE;
    expect(found.uncertainty / expected).toBeCloseTo(1, 1);
    // First order alone would say 2 · 2 · 1 · 0.9/√3.
    expect(found.uncertainty).toBeGreaterThan(1.1 * ((4 * 0.9) / Math.sqrt(3)));
  });

  test("a quotient by something uncertain by more than a fifth", () => {
    const found = worked("x: 1.0 s ± 0.7 s\ny = 1 m / x");
    const expected = simulated(1, (uniform) => 1 / (1 + 0.7 * (2 * uniform() - 1))) * RECTANGLE;
    expect(found.says).toBeDefined();
    expect(found.uncertainty / expected).toBeCloseTo(1, 1);
  });

  test("a root of a value that may be zero, where first order finds nothing", () => {
    const found = worked("drop: 0.00 psi ± 0.05 psi\ny [L/min] = orifice flow(0.5 mm, drop)");
    expect(found.value).toBe(0);
    expect(found.says).toContain("first order finds none");
    expect(found.uncertainty).toBeGreaterThan(0.05);
  });

  test("a share near its lower bound, where the dew point falls away", () => {
    const found = worked(
      "warm: 20.0 degC ± 0.2 K\nhumidity: 3 % ± 3 %\ny [degC] = dew point(warm, humidity)",
    );
    expect(found.says).toBeDefined();
    // Magnus' formula (WMO Guide to Instruments, coefficients over water and over ice; from memory).
    const vapour = (h: number, t: number) => h * 611.2 * Math.exp((17.62 * t) / (243.12 + t));
    const frost = (e: number) => (272.62 * Math.log(e / 611.2)) / (22.46 - Math.log(e / 611.2));
    const best = frost(vapour(0.03, 20));
    const expected = simulated(best, (uniform) => {
      const h = 0.03 * 2 * uniform();
      return frost(vapour(h, 20 + 0.2 * (2 * uniform() - 1)));
    });
    expect(found.value).toBeCloseTo(best, 0);
    // A rectangle nearly alone, so its k = 2 and its 95 % are as far apart as for any rectangle.
    expect(found.uncertainty / (expected * RECTANGLE)).toBeCloseTo(1, 1);
  });

  test("a battery that cannot be more than full", () => {
    const found = worked("rest: 12.60 V ± 0.30 V\ny [%] = charge state(rest, temperature: 25 degC)");
    expect(found.value).toBeCloseTo(93.75, 6);
    // Up it can only go by 6 %; down it falls off the more steeply the lower it gets.
    expect(found.says).toBeDefined();
  });

  test("and leaves out what cannot be", () => {
    const found = worked(
      "warm: 20.0 degC ± 0.2 K\nhumidity: 2 % ± 3 %\ny [degC] = dew point(warm, humidity)",
    );
    expect(found.says).toContain("outside what can be");
  });

  test("and hands the wider uncertainty on to what follows", () => {
    const lines = "x: 1.0 m ± 0.9 m\nsquare [m2] = x ^ 2\ny [m2] = square + 1 m2";
    expect(worked(lines).uncertainty).toBeCloseTo(worked(lines, "square").uncertainty, 12);
    expect(worked(lines).says).toBeUndefined();
  });

  test("a product of two that may both be zero", () => {
    const found = worked("a: 0.0 m ± 1.0 m\nb: 0.0 m ± 1.0 m\ny [m2] = a * b");
    expect(found.value).toBe(0);
    expect(found.uncertainty).toBeGreaterThan(0.5);
    expect(found.uncertainty).toBeLessThan(1.5);
  });
});

test("finds what the second-order terms add to the end gauge of the GUM", () => {
  // JCGM 100:2008, H.1: 32 nm at first order; H.1.7: 34 nm with the second-order terms; JCGM 101:2008, 9.5:
  // 36 nm by simulation (from memory).
  const limit = (standard: number) => (standard * Math.sqrt(3)).toPrecision(14);
  const lines = [
    `standard: 50.000623 mm ± ${limit(25e-6)}`,
    `d: 215 nm ± ${limit(9.7)}`,
    `expansion: 11.5 ppm/K ± ${limit(1.2)}`,
    `theta: -0.1 K ± ${limit(0.41)}`,
    `expansion difference: 0 ppm/K ± ${limit(0.58)}`,
    `temperature difference: 0 K ± ${limit(0.029)}`,
    "y [nm] = standard + d - standard * (expansion difference * theta + expansion * temperature difference)",
  ].join("\n");
  const found = worked(lines);
  expect(found.value).toBeCloseTo(50_000_838, 0);
  expect(found.uncertainty / 2).toBeGreaterThan(33.5);
  expect(found.uncertainty / 2).toBeLessThan(36.5);
  expect(found.says).toContain("1.1 times what first order gives");
});

describe("stays at first order", () => {
  test.each([
    ["a difference of nearly equal values", "a: 1.00 psi ± 0.05 psi\nb: 0.98 psi ± 0.05 psi\ny = a - b"],
    ["a plain multiple", "a: 0.1 K ± 0.3 K\ny = 3 * a"],
    ["a product with an exact reading", "n: 3\na: 0.1 V ± 0.3 V\ny = n * a"],
    ["a quotient by an exact number", "a: 0.1 V ± 0.3 V\ny = a / 2"],
    [
      "the size of a hole, which rests on a discharge coefficient good to a sixth",
      "q: 0.42 L/min ± 0.02 L/min\np: 0.80 psi ± 0.02 psi\ny [mm] = orifice size(q, p)",
    ],
    [
      "a dew point in the middle of the scale",
      "t: 20.0 degC ± 0.2 K\nh: 61 % ± 3 %\ny [degC] = dew point(t, h)",
    ],
    ["what is multiplied by nothing", "a: 1.0 m ± 0.9 m\nn: 0\ny = n * a"],
  ])("%s", (_, lines) => {
    const found = worked(lines);
    expect(found.assumptions.filter((text) => text.includes("simulated"))).toEqual([]);
  });
});

test("works derived values out anew, so that causes that cancel do cancel", () => {
  // The hole rests on the drop and on a discharge coefficient that the flow back takes out again.
  const lines =
    "q: 0.325 L/min ± 0.02 L/min\ndrop: 7.17 kPa ± 0.1 kPa\nhole = orifice size(q, drop: drop)\ny [L/min] = orifice flow(hole, drop: drop)";
  expect(worked(lines).says).toBeUndefined();
  expect(worked(lines).uncertainty).toBeCloseTo((2 * 0.02) / Math.sqrt(3), 6);
});

test("stays within bounds along a chain of hundreds of uncertain values", () => {
  const chain = Array.from({ length: 300 }, (_, i) => `a${i + 1} = a${i} ^ 1.01`);
  const found = worked(["a0: 1.0 ± 0.5", ...chain].join("\n"), "a300");
  expect(found.value).toBe(1);
  expect(found.uncertainty).toBeGreaterThan(0);
});

test("gives the same figure every time, and with what was remembered as without", () => {
  const lines = "x: 1.0 m ± 0.9 m\nz: 2.0 m ± 0.9 m\ny [m3] = x ^ 2 * z";
  const once = worked(lines);
  expect(once.says).toBeDefined();
  expect(worked(lines)).toEqual(once);
  const memo = new EvaluationMemo();
  const again = () => {
    const analysis = analyze(readNote(readings(lines), readYaml), noShop([]), { memo });
    const shown = analysis.values.at(-1)?.shown;
    return shown?.kind === "quantity" ? shown.uncertainty : undefined;
  };
  expect(again()).toBe(once.uncertainty);
  expect(again()).toBe(once.uncertainty);
});

test("takes readings through one instrument as one error where that is more cautious", () => {
  const shop = "instruments:\n  L1: { measures: length, range: 0 to 10 m, accuracy: ± 0.9 m }\n";
  const analysis = analyzeText(readings("a: 1.0 m via L1\nb: 1.0 m via L1\ny [m2] = a * b"), { shop });
  const shown = analysis.values.find((one) => one.name === "y")?.shown;
  const expected = simulated(1, (uniform) => (1 + 0.9 * (2 * uniform() - 1)) ** 2) * RECTANGLE;
  expect(shown?.kind === "quantity" ? (shown.uncertainty ?? 0) / expected : 0).toBeCloseTo(1, 1);
});

test("a value that has none over most of its inputs says that it is not to be relied on", () => {
  const found = worked("x: 0.01 ± 1.0\ny = x ^ 0.5");
  expect(found.value).toBeCloseTo(0.1, 12);
  expect(found.assumptions.join(" ")).toMatch(/simulated|not to be relied on/);
});
