// Uncertainty as JCGM 100:2008 (the GUM) lays down: numbers worked out here from its formulas by plain
// arithmetic, Student factors and worked examples from tests/data/reference-values.json (each row names its source).
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { referenceRows } from "../physics/reference/plan.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";
import { quantityOf, rulesOf } from "../support/values.ts";

const expected = (id: string): number => {
  const row = referenceRows.find((one) => one.id === id);
  if (!row) throw new Error(`no reference row ${id}`);
  return row.expected.value;
};
const U = (lines: string, name: string, shop?: string): number | null =>
  quantityOf(readings(lines), name, { shop }).uncertainty;

const RECTANGLE = 1 / Math.sqrt(3);
const RESOLUTION = 1 / Math.sqrt(12);

const SHOP = `instruments:
  P1: { measures: pressure, range: 0 to 100 psi, accuracy: 1 % of full scale, resolution: 0.1 psi }
  P2: { measures: pressure, range: 0 to 10 psi, accuracy: 2 % of full scale }
  V1: { measures: voltage, range: 0 to 20 V, resolution: 0.01 V, accuracy: 0.5 % of reading + 2 digits }
  T1: { measures: temperature, range: -20 to 120 degC, accuracy: ± 1 K }
  S1:
    measures: pressure
    range: 0 to 100 psi
    accuracy: 1 % of full scale
    split: { zero: 0.5 psi, gain: 0.4 %, repeatability: 0.1 psi }
`;

describe("one reading", () => {
  test("± is the half-width of a rectangle (4.3.7)", () => {
    expect(U("p: 5 psi ± 0.3 psi", "p")).toBeCloseTo(2 * 0.3 * RECTANGLE, 12);
    expect(U("p: 5 psi ± 0.3", "p")).toBeCloseTo(2 * 0.3 * RECTANGLE, 12);
    expect(U("p: 5 psi ± 2 kPa", "p")).toBeCloseTo((2 * 2 * RECTANGLE) / 6.894757293168, 9);
    expect(RECTANGLE).toBeCloseTo(expected("M010"), 9);
  });

  test("without ± and instrument the last digit counts (F.2.2.1)", () => {
    expect(U("v: 12.60 V", "v")).toBeCloseTo(2 * expected("M016"), 9);
    expect(U("v: 12.6 V", "v")).toBeCloseTo(2 * 0.1 * RESOLUTION, 12);
    expect(U("v: 12 V", "v")).toBeCloseTo(2 * RESOLUTION, 12);
    expect(U("l: 3/16 in", "l")).toBeCloseTo((2 * RESOLUTION) / 16, 12);
    expect(U("t: 19.5 degC", "t")).toBeCloseTo(2 * 0.1 * RESOLUTION, 12);
  });

  test("± takes the place of digits and instrument", () => {
    expect(U("p: 5 psi ± 0.3 psi via P1", "p", SHOP)).toBeCloseTo(2 * 0.3 * RECTANGLE, 12);
  });

  test("the instrument's limit of error is a rectangle", () => {
    expect(U("p: 40.0 psi via P1", "p", SHOP)).toBeCloseTo(2 * expected("M011"), 7);
    expect(U("v: 12.60 V via V1", "v", SHOP)).toBeCloseTo(2 * expected("M015"), 5);
    expect(U("t: 19.5 degC via T1", "t", SHOP)).toBeCloseTo(2 * RECTANGLE, 12);
  });

  test("an instrument that measures something else lends no accuracy", () => {
    expect(U("v: 12.60 V via P1", "v", SHOP)).toBeCloseTo(2 * 0.01 * RESOLUTION, 12);
  });

  test("a plain whole number is a count and exact, until it has a unit, ± or an instrument", () => {
    expect(U("n: 12", "n")).toBe(null);
    expect(U("n: 12 %", "n")).toBeCloseTo(2 * RESOLUTION, 12);
    expect(U("n: 12 ± 1", "n")).toBeCloseTo(2 * RECTANGLE, 12);
    expect(U("n: 12.0", "n")).toBeCloseTo(0.2 * RESOLUTION, 12);
  });

  test("% behind ± is relative, but on a reading in % it means percentage points", () => {
    expect(U("p: 5 psi ± 2 %", "p")).toBeCloseTo(2 * 0.1 * RECTANGLE, 12);
    expect(U("h: 61 % ± 3 %", "h")).toBeCloseTo(2 * 3 * RECTANGLE, 12);
    expect(U("h: 61 % ± 3", "h")).toBeCloseTo(2 * 3 * RECTANGLE, 12);
    expect(U("gain: 4.0 ± 2 %", "gain")).toBeCloseTo(2 * 0.08 * RECTANGLE, 12);
    expect(U("k: 300 K ± 1 %", "k")).toBeCloseTo(2 * 3 * RECTANGLE, 12);
  });

  test("a relative ± on degC or degF is a finding; degrees behind ± are steps", () => {
    expect(rulesOf(readings("t: 20 degC ± 2 %"))).toEqual(["unit/scale-point"]);
    expect(rulesOf(readings("t: 68 degF ± 2 %"))).toEqual(["unit/scale-point"]);
    expect(U("t: 20 degC ± 0.5 degC", "t")).toBeCloseTo(2 * 0.5 * RECTANGLE, 12);
    expect(U("t: 20 degC ± 0.9 delta degF", "t")).toBeCloseTo(2 * 0.5 * RECTANGLE, 12);
    expect(U("t: 68 degF ± 0.5 K", "t")).toBeCloseTo(2 * 0.9 * RECTANGLE, 12);
  });

  test("± of another kind is a finding", () => {
    expect(rulesOf(readings("p: 5 psi ± 2 m"))).toEqual(["unit/mismatch"]);
    const says = (line: string) => analyzeText(readings(line)).findings[0]?.message;
    expect(says("p: 5 psi ± 2 m")).toBe("The reading is a pressure (psi), and its `±` is a length (m).");
    expect(says("p: 5 ± 0.1 psi")).toBe("The reading is a plain number, and its `±` is a pressure (psi).");
    expect(rulesOf(readings("p: 5 psi ± 2 pssi"))).toEqual(["unit/unknown"]);
  });
});

describe("repeated readings", () => {
  const five = "13.98, 14.02, 14.01, 13.97, 14.04 inH2O";

  test("their mean, their scatter widened for few readings, and the resolution", () => {
    const t = expected("M008");
    const scatter = expected("M023") * Math.max(1, t / 2);
    const { value, uncertainty } = quantityOf(readings(`p: ${five}`), "p");
    expect(value).toBeCloseTo(expected("M021"), 9);
    expect(uncertainty).toBeCloseTo(2 * Math.hypot(scatter, 0.01 * RESOLUTION), 6);
  });

  test("± or the instrument counts besides the scatter, and so does the resolution", () => {
    const t = expected("M008");
    const scatter = expected("M023") * Math.max(1, t / 2);
    expect(U(`p: ${five} ± 0.1 inH2O`, "p")).toBeCloseTo(
      2 * Math.hypot(scatter, 0.1 * RECTANGLE, 0.01 * RESOLUTION),
      6,
    );
  });

  test("two readings: Student's factor for one degree of freedom", () => {
    // t95(1) = 12.7062, JCGM 100:2008 table G.2 prints 12.71.
    const s = 0.2 / Math.SQRT2;
    const u = Math.hypot((s / Math.SQRT2) * (12.7062 / 2), 0.1 * RESOLUTION);
    expect(U("i: 9.1, 9.3 A", "i")).toBeCloseTo(2 * u, 4);
  });

  test("readings that agree still carry the resolution", () => {
    expect(U("i: 9.1, 9.1, 9.1 A", "i")).toBeCloseTo(2 * 0.1 * RESOLUTION, 12);
  });
});

describe("derived values", () => {
  test("first-order propagation of independent readings (5.1.2)", () => {
    // Reference row M024: u(V)/V = 2 %, u(p) = 0.05 inH2O each, u(t) = 0.5 s, as half-widths of rectangles.
    const half = (u: number): string => (u * Math.sqrt(3)).toPrecision(12);
    const text = readings(`V: 50 L ± ${half(1)} L
p1: 12 inH2O ± ${half(0.05)} inH2O
p2: 6 inH2O ± ${half(0.05)} inH2O
t: 120 s ± ${half(0.5)} s
rate [Pa.m3/s] = V * (p1 - p2) / t`);
    const { value, uncertainty } = quantityOf(text, "rate");
    expect(((uncertainty ?? 0) / 2 / value) * 100).toBeCloseTo(expected("M024"), 3);
  });

  test("a reading used twice correlates with itself", () => {
    const base = "x: 5.0 psi\ny: 3.00 psi\nn: 8.00\n";
    expect(quantityOf(readings(`${base}d = x - x`), "d")).toMatchObject({ value: 0, uncertainty: 0 });
    expect(U(`${base}d = x + x`, "d")).toBeCloseTo(2 * (U(base, "x") ?? 0), 12);
    expect(U(`${base}d = (x + y) - y`, "d")).toBeCloseTo(U(base, "x") ?? 0, 12);
    expect(U(`${base}d [psi] = x * y / y`, "d")).toBeCloseTo(U(base, "x") ?? 0, 12);
    expect(U(`${base}a = x + y\nd = a - x`, "d")).toBeCloseTo(U(base, "y") ?? 0, 12);
    expect(U(`${base}d = n / n`, "d")).toBeCloseTo(0, 12);
    expect(U(`${base}d = n ^ 2`, "d")).toBeCloseTo(16 * (U(base, "n") ?? 0), 9);
  });

  test("agree with a sum over small changes of each reading, whatever the formula", () => {
    // Independent check: central differences instead of the exact derivatives.
    const formulas = [
      "a * b / c",
      "(a + b) / (a - c)",
      "a ^ 2 * b - c * a * b",
      "a / (b + c * c / b)",
      "-a * (b - c)",
    ];
    const digits = fc.integer({ min: 1000, max: 9999 }).map((n) => n / 100);
    const value = (formula: string, [a, b, c]: readonly number[]) =>
      quantityOf(readings(`a = ${a}\nb = ${b}\nc = ${c}\nx = ${formula}`), "x").value;
    fc.assert(
      fc.property(fc.constantFrom(...formulas), digits, digits, digits, (formula, a, b, c) => {
        fc.pre(Math.abs(a - c) > 1);
        const at = [a, b, c];
        const u = 0.01 * RECTANGLE;
        const sum = at.reduce((total, _, i) => {
          const step = 1e-4;
          const shifted = (by: number) => at.map((v, j) => (j === i ? v + by : v));
          const slope = (value(formula, shifted(step)) - value(formula, shifted(-step))) / (2 * step);
          return total + (slope * u) ** 2;
        }, 0);
        const lines = `a: ${a} ± 0.01\nb: ${b} ± 0.01\nc: ${c} ± 0.01\nx = ${formula}`;
        const own = U(lines, "x") ?? 0;
        expect(own / (2 * Math.sqrt(sum))).toBeCloseTo(1, 3);
      }),
      { numRuns: 100 },
    );
  });
});

describe("two readings through one instrument", () => {
  const through = (a: string, b: string) => `x: 40.0 psi via ${a}\ny: 30.0 psi via ${b}\n`;
  const u = RECTANGLE; // 1 % of 100 psi

  test("the larger of correlation 0 and 1 counts (5.2)", () => {
    expect(U(`${through("P1", "P1")}d = x - y`, "d", SHOP)).toBeCloseTo(2 * Math.SQRT2 * u, 9);
    expect(U(`${through("P1", "P1")}d = x + y`, "d", SHOP)).toBeCloseTo(4 * u, 9);
    const ratio = 40 / 30;
    const relative = Math.hypot(u / 40, u / 30);
    expect(U(`${through("P1", "P1")}d = x / y`, "d", SHOP)).toBeCloseTo(2 * ratio * relative, 9);
  });

  test("through two instruments they are independent", () => {
    const both = Math.hypot(u, 0.2 * RECTANGLE);
    const lines = "x: 40.0 psi via P1\ny: 3.0 psi via P2\n";
    expect(U(`${lines}d = x + y`, "d", SHOP)).toBeCloseTo(2 * both, 9);
    expect(U(`${lines}d = x - y`, "d", SHOP)).toBeCloseTo(2 * both, 9);
  });

  test("where the shop file splits the error, the zero cancels in a difference and the gain nearly so", () => {
    const gain = 0.004 * RECTANGLE * 10;
    const own = 0.1 * Math.SQRT2;
    expect(U(`${through("S1", "S1")}d = x - y`, "d", SHOP)).toBeCloseTo(2 * Math.hypot(gain, own), 9);
    const zero = 2 * 0.5 * RECTANGLE;
    const gains = 0.004 * RECTANGLE * 70;
    expect(U(`${through("S1", "S1")}d = x + y`, "d", SHOP)).toBeCloseTo(2 * Math.hypot(zero, gains, own), 9);
  });

  test("the id is compared without regard to case", () => {
    expect(U(`${through("P1", "p1")}d = x + y`, "d", SHOP)).toBeCloseTo(4 * u, 9);
  });
});

describe("defaults that a function rests on", () => {
  const shares = (text: string, name: string, shop?: string) => {
    const analysis = analyzeText(text, { shop });
    const value = analysis.values.find((one) => one.name === name);
    if (!value) throw new Error(`no ${name}`);
    return analysis.working(value);
  };

  test("a discharge coefficient that nobody gave is uncertain, and said to be assumed", () => {
    const lines = "flow: 0.420 L/min\ndrop: 0.800 psi\nleak size [mm] = orifice size(flow, drop: drop)";
    const { assumptions, contributions } = shares(readings(lines), "leak size");
    expect(assumptions.join(" ")).toContain("0.6");
    expect(contributions[0]?.says).toContain("assumed");
    const given = U(`${lines.slice(0, -1)}, discharge: 0.6)`, "leak size") ?? 0;
    expect(U(lines, "leak size")).toBeGreaterThan(2 * given);
  });

  test("the ambient pressure is uncertain by ± 6 kPa, with the shop's altitude by ± 3 kPa, and read it is itself", () => {
    const lines = "hot [psi] = sealed pressure(0 psi, 20 degC, 40 degC)";
    const ratio = 313.15 / 293.15 - 1;
    const inPsi = (kPa: number) => kPa / 6.894757293168;
    expect(U(lines, "hot")).toBeCloseTo(2 * inPsi(6) * RECTANGLE * ratio, 4);
    expect(U(lines, "hot", "altitude: 240 m\n")).toBeCloseTo(2 * inPsi(3) * RECTANGLE * ratio, 4);
    expect(U(`ambient pressure: 98.5 kPa(a) ± 0.2 kPa\n${lines}`, "hot")).toBeCloseTo(
      2 * inPsi(0.2) * RECTANGLE * ratio,
      4,
    );
    expect(shares(readings(lines), "hot").assumptions.join(" ")).toContain("101.3 ± 6 kPa");
  });

  test("one default behind two values is one cause", () => {
    const lines =
      "a [psi] = sealed pressure(0 psi, 20 degC, 40 degC)\nb [psi] = sealed pressure(0 psi, 20 degC, 40 degC)";
    expect(U(`${lines}\nd = a - b`, "d")).toBeCloseTo(0, 9);
  });
});

describe("as shown", () => {
  test.each([
    ["p: 5.00 psi ± 0.3 psi", "5.0 psi ± 0.3 psi"],
    ["p: 5.00 psi ± 0.1 psi", "5.00 psi ± 0.12 psi"],
    ["p: 1234 psi ± 100 psi", "1230 psi ± 120 psi"],
    ["n: 12", "12"],
  ])("%s: at most two digits of uncertainty, and the value cut at the same place (7.2.6)", (line, text) => {
    expect(analyzeText(readings(line)).values[0]?.shown?.text).toBe(text);
  });

  test("never more than two significant digits", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 999_999 }), fc.integer({ min: -3, max: 3 }), (digits, power) => {
        const line = `p: 500 psi ± ${digits}e${power} psi`;
        const shown = analyzeText(readings(line)).values[0]?.shown?.text ?? "";
        const written = shown.split(" ± ")[1]?.split(" ")[0]?.split("e")[0] ?? "";
        const significant = written.replace(".", "").replace(/^0+/, "").replace(/0+$/, "");
        expect(significant.length).toBeLessThanOrEqual(2);
        expect(significant.length).toBeGreaterThan(0);
      }),
      { numRuns: 500 },
    );
  });
});
