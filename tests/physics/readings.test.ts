import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitDecay, fitLine } from "../../server/src/physics/least-squares.ts";
import { coverageWidening, studentT } from "../../server/src/physics/student-t.ts";
import { call, outcome, outside, refusal, remarks } from "./call.ts";
import { noteValue } from "./reference/note-value.ts";

const near = (got: number, wanted: number, relative: number): void =>
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted));

/** The standard uncertainty that arises in the function. */
function scatter(name: string, args: Parameters<typeof outcome>[1], resolution = 0): number {
  const result = outcome(name, args, resolution);
  if (!result.ok) throw new Error(result.says);
  return result.value.v === undefined ? Number.NaN : (result.scatter?.standardUncertainty ?? 0);
}

describe("Student's t", () => {
  it("equals JCGM 100:2008, table G.2, to its two decimals (from memory)", () => {
    const table: readonly (readonly [number, number, number])[] = [
      [1, 12.71, 63.66],
      [2, 4.3, 9.92],
      [3, 3.18, 5.84],
      [4, 2.78, 4.6],
      [5, 2.57, 4.03],
      [10, 2.23, 3.17],
      [16, 2.12, 2.92],
      [30, 2.04, 2.75],
      [100, 1.984, 2.626],
    ];
    for (const [freedom, t95, t99] of table) {
      expect(Math.abs(studentT(0.95, freedom) - t95)).toBeLessThan(0.0051);
      expect(Math.abs(studentT(0.99, freedom) - t99)).toBeLessThan(0.0051);
    }
  });

  it("equals the closed forms for one and two degrees of freedom", () => {
    for (const p of [0.5, 0.9, 0.95, 0.99, 0.999]) {
      near(studentT(p, 1), Math.tan((Math.PI / 2) * p), 1e-10);
      near(studentT(p, 2), p * Math.sqrt(2 / (1 - p * p)), 1e-10);
    }
  });

  it("goes over into the normal distribution", () => near(studentT(0.95, 1e7), 1.959964, 1e-6));

  it("widens few readings, and never narrows many", () => {
    near(coverageWidening(4), 2.776445 / 2, 1e-6);
    expect(coverageWidening(200)).toBe(1);
    expect(coverageWidening(0)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("repeated readings", () => {
  const five = [13.98, 14.02, 14.01, 13.97, 14.04];

  it("mean and spread of JCGM 100:2008, example H.2 (from memory)", () => {
    const sets: readonly (readonly [readonly number[], number, number])[] = [
      [[5.007, 4.994, 5.005, 4.99, 4.999], 4.999, 0.0032],
      [[19.663e-3, 19.639e-3, 19.64e-3, 19.685e-3, 19.678e-3], 19.661e-3, 0.0095e-3],
      [[1.0456, 1.0438, 1.0468, 1.0428, 1.0433], 1.04446, 0.00075],
    ];
    for (const [readings, mean, error] of sets) {
      near(call("mean", { readings }), mean, 1e-9);
      near(call("spread", { readings }) / Math.sqrt(5), error, 0.01);
    }
  });

  it("least, greatest, span and count", () => {
    expect(call("least", { readings: five })).toBe(13.97);
    expect(call("greatest", { readings: five })).toBe(14.04);
    expect(call("span", { readings: five })).toBeCloseTo(0.07, 12);
    expect(call("count", { readings: five })).toBe(5);
  });

  it("keep their digits beside a large offset", () => {
    near(call("spread", { readings: five.map((v) => v + 1e7) }), call("spread", { readings: five }), 1e-6);
  });

  it("work on a million readings", () => {
    const many = Array.from({ length: 1_000_000 }, (_, i) => i % 10);
    expect(call("greatest", { readings: many })).toBe(9);
    expect(call("mean", { readings: many })).toBeCloseTo(4.5, 9);
    near(call("slope", { values: many.map((v, i) => v + 3 * i), against: many.map((_, i) => i) }), 3, 1e-9);
  });

  it("a least value keeps one reading's resolution, a spread says how well it is known", () => {
    expect(scatter("least", { readings: five }, 0.003)).toBe(0.003);
    near(scatter("spread", { readings: five }), call("spread", { readings: five }) / Math.sqrt(8), 1e-12);
  });

  it("say when there are too few", () => {
    expect(refusal("mean", { readings: [] })).toMatch(/no readings/);
    expect(refusal("spread", { readings: [1] })).toMatch(/at least 2/);
    expect(call("mean", { readings: [3] })).toBe(3);
  });
});

describe("slope", () => {
  it("equals JCGM 100:2008, example H.3: thermometer calibration by a least-squares line (from memory)", () => {
    const against = [
      21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
    ].map((t) => t - 20);
    const values = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
    const line = fitLine(against, values);
    if (!line) throw new Error("no line");
    expect(line.intercept.toFixed(4)).toBe("-0.1712");
    expect(line.interceptError.toFixed(4)).toBe("0.0029");
    expect(line.slope.toFixed(5)).toBe("0.00218");
    expect(line.slopeError.toFixed(5)).toBe("0.00067");
    expect(line.residual.toFixed(4)).toBe("0.0035");
    near(call("slope", { values, against }), line.slope, 1e-15);
    near(scatter("slope", { values, against }), line.slopeError * (studentT(0.95, 9) / 2), 1e-12);
  });

  it("finds a straight line exactly and does not mind where time begins", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        (rise, start, begin) => {
          const against = [0, 7, 11, 30, 61].map((t) => t + begin);
          const values = against.map((t) => start + rise * (t - begin));
          expect(Math.abs(call("slope", { values, against }) - rise)).toBeLessThan(1e-7);
        },
      ),
    );
  });

  it("keeps the resolution of the readings where the line looks perfect", () => {
    near(scatter("slope", { values: [1, 2, 3], against: [0, 1, 2] }, 0.1), 0.1 / Math.SQRT2, 1e-12);
  });

  it("says what is missing", () => {
    expect(refusal("slope", { values: [1, 2], against: [0] })).toMatch(/differ in length/);
    expect(refusal("slope", { values: [1], against: [0] })).toMatch(/at least 2/);
    expect(refusal("slope", { values: [1, 2], against: [5, 5] })).toMatch(/same time/);
    expect(outside("slope", { values: [1, 2], against: [0, 1] })[0]).toMatch(/Two points/);
  });
});

describe("fit decay", () => {
  it("finds an exact exponential wherever time begins and whatever the floor", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 500, noNaN: true }),
        fc.double({ min: 0.1, max: 1e5, noNaN: true }),
        fc.double({ min: 0, max: 1e4, noNaN: true }),
        fc.double({ min: 0, max: 1e3, noNaN: true }),
        (constant, start, begin, floor) => {
          const against = Array.from({ length: 12 }, (_, i) => begin + 20 * i);
          const values = against.map((t) => floor * start + start * Math.exp(-(t - begin) / constant));
          near(call("fit decay", { values, against, floor: floor * start }), constant, 1e-6);
        },
      ),
    );
  });

  it("leaves a least sum of squares: no neighbour does better", () => {
    const x = [0, 30, 60, 90, 120, 150];
    const y = [8.1, 5.6, 4.05, 2.7, 2.1, 1.3];
    const fit = fitDecay(x, y);
    if (!fit) throw new Error("no fit");
    const rest = (start: number, constant: number): number =>
      x.reduce((sum, t, i) => sum + ((y[i] ?? 0) - start * Math.exp(-t / constant)) ** 2, 0);
    const best = rest(fit.start, fit.timeConstant);
    for (const a of [-1e-3, 0, 1e-3])
      for (const b of [-1e-3, 0, 1e-3])
        expect(rest(fit.start * (1 + a), fit.timeConstant * (1 + b))).toBeGreaterThanOrEqual(best - 1e-15);
  });

  it("has a standard error that a thousand noisy repeats bear out (fixed seed)", () => {
    // A small congruential generator, so that the run is the same everywhere; twelve of them make one normal.
    let state = 12345;
    const uniform = (): number => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state / 2 ** 32;
    };
    const normal = (): number => Array.from({ length: 12 }, uniform).reduce((a, b) => a + b) - 6;
    const against = Array.from({ length: 30 }, (_, i) => 5 * i);
    const found: number[] = [];
    let stated = 0;
    for (let run = 0; run < 1000; run++) {
      const fit = fitDecay(
        against,
        against.map((t) => 10 * Math.exp(-t / 60) + 0.1 * normal()),
      );
      if (!fit) throw new Error("no fit");
      found.push(fit.timeConstant);
      stated += fit.timeConstantError / 1000;
    }
    near(call("spread", { readings: found }), stated, 0.1);
    near(call("mean", { readings: found }), 60, 0.005);
  });

  it("says when the rows do not fall, or hardly do", () => {
    expect(refusal("fit decay", { values: [1, 2, 3], against: [0, 1, 2] })).toMatch(/do not fall/);
    expect(refusal("fit decay", { values: [1, 2], against: [0, 1] })).toMatch(/at least 3/);
    expect(outside("fit decay", { values: [10, 9.9, 9.8], against: [0, 1, 2] })[0]).toMatch(/fall to half/);
  });
});

describe("instruments", () => {
  it("scaled works on points of a temperature scale and warns of a broken wire", () => {
    // 4 to 20 mA for −50 to 150 degC: 12 mA is 50 degC, by inspection.
    const args = { "low signal": 4e-3, "high signal": 20e-3, low: 223.15, high: 423.15 };
    near(call("scaled", { ...args, signal: 12e-3 }), 323.15, 1e-12);
    expect(outside("scaled", { ...args, signal: 0 })[0]).toMatch(/broken wire/);
    expect(outside("scaled", { ...args, signal: 21e-3 })[0]).toMatch(/high end/);
    expect(outside("scaled", { ...args, signal: 20e-3 })).toEqual([]);
    expect(refusal("scaled", { ...args, "high signal": 4e-3, signal: 5e-3 })).toMatch(/same/);
  });

  it("the En number takes the uncertainties that the readings carry", () => {
    // 0.3 over the root of 0.3² + 0.4², the half-widths being √3 times half of each.
    const half = (u: number): string => ((u / 2) * Math.sqrt(3)).toPrecision(12);
    const readings = `a: 14.2 inH2O ± ${half(0.3)}\nb: 13.9 inH2O ± ${half(0.4)}\nx = en number(a, b)`;
    expect(noteValue(readings)).toBeCloseTo(0.6, 9);
  });

  it("the En number tells agreement (ISO 13528 and ISO/IEC 17043, from memory: |En| ≤ 1)", () => {
    const args = { first: 10, second: 9, "first uncertainty": 0.6, "second uncertainty": 0.8 };
    expect(call("en number", args)).toBe(1);
    expect(remarks("en number", args)[0]).toMatch(/agree/);
    expect(remarks("en number", { ...args, second: 8.9 })[0]).toMatch(/do not agree/);
    expect(refusal("en number", { first: 10, second: 9 })).toMatch(/uncertainty of both/);
  });
});
