// Properties of whole notes: the same job written in other units, functions against their inverses, and
// formulas that put unlike things together.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fromSI, readUnit, toSI } from "../../server/src/units/index.ts";
import { call } from "../physics/call.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";

interface Found {
  readonly value: number;
  readonly uncertainty: number;
}

function valuesOf(lines: readonly string[]): ReadonlyMap<string, Found> {
  const found = new Map<string, Found>();
  for (const { key, shown } of analyzeText(readings(lines.join("\n"))).values) {
    if (shown?.kind === "quantity")
      found.set(key, { value: shown.value, uncertainty: shown.uncertainty ?? 0 });
  }
  return found;
}

/** A reading with the units it may be written in, and the size it usually has in the first of them. */
interface Given {
  readonly name: string;
  readonly units: readonly [string, string];
  readonly low: number;
  readonly high: number;
  /** Half-width in the first unit (kelvin for temperatures). */
  readonly limit: number;
}

const given = (name: string, si: string, us: string, low: number, high: number, limit: number): Given => ({
  name,
  units: [si, us],
  low,
  high,
  limit,
});

/** One formula for nearly every function, with what it takes; the result always in the same unit. */
const JOBS: readonly {
  readonly formula: string;
  readonly gives: string;
  readonly takes: readonly Given[];
}[] = [
  {
    formula: "orifice size(flow, drop: drop, temperature: warm)",
    gives: "mm",
    takes: [
      given("flow", "L/min", "in3/min", 0.2, 2, 0.02),
      given("drop", "kPa", "psi", 2, 9, 0.1),
      given("warm", "degC", "degF", 5, 35, 0.5),
    ],
  },
  {
    formula: "orifice flow(hole, drop: drop)",
    gives: "L/min",
    takes: [given("hole", "mm", "in", 0.3, 2, 0.02), given("drop", "kPa", "inH2O", 1, 9, 0.1)],
  },
  {
    formula:
      "decay leak rate(volume, high, low, time, start temperature: warm, end temperature: warm, start ambient: air)",
    gives: "Pa.m3/s",
    takes: [
      given("volume", "L", "in3", 2, 40, 0.1),
      given("high", "kPa", "inH2O", 3, 4, 0.02),
      given("low", "kPa", "inH2O", 1, 2, 0.02),
      given("time", "s", "min", 60, 300, 1),
      given("warm", "degC", "degF", 5, 35, 0.1),
      given("air", "kPa(a)", "psia", 95, 103, 0.2),
    ],
  },
  {
    formula: "sealed pressure(start, cold, warm)",
    gives: "Pa",
    takes: [
      given("start", "kPa", "psi", 0, 5, 0.05),
      given("cold", "degC", "degF", 5, 20, 0.2),
      given("warm", "degC", "degF", 25, 45, 0.2),
    ],
  },
  {
    formula: "force on(pressure, area)",
    gives: "N",
    takes: [given("pressure", "kPa", "psi", 2, 9, 0.1), given("area", "cm2", "in2", 100, 900, 5)],
  },
  {
    formula: "dew point(warm, damp)",
    gives: "degC",
    takes: [given("warm", "degC", "degF", 5, 35, 0.3), given("damp", "%", "1", 30, 80, 2)],
  },
  {
    formula: "wire drop(current, length, section: 2.5 mm2, temperature: warm)",
    gives: "V",
    takes: [
      given("current", "A", "mA", 2, 20, 0.1),
      given("length", "m", "ft", 1, 9, 0.05),
      given("warm", "degC", "degF", 5, 35, 1),
    ],
  },
  {
    formula: "run time(capacity, current)",
    gives: "h",
    takes: [given("capacity", "A.h", "A.s", 40, 90, 1), given("current", "A", "mA", 5, 20, 0.2)],
  },
  {
    formula: "bead volume(length, width)",
    gives: "mL",
    takes: [given("length", "m", "in", 0.2, 2, 0.01), given("width", "mm", "in", 3, 9, 0.2)],
  },
  {
    formula: "(high - low) * area / (warm - cold)",
    gives: "N/K",
    takes: [
      given("high", "kPa", "psi", 5, 9, 0.05),
      given("low", "kPa", "inH2O", 1, 3, 0.05),
      given("area", "cm2", "in2", 100, 900, 5),
      given("warm", "degC", "degF", 25, 45, 0.2),
      given("cold", "degC", "degF", 5, 15, 0.2),
    ],
  },
];

/** `name: value unit ± limit`, with value and limit the same whatever the unit. */
function written(one: Given, at: number, unit: string): string {
  const [own] = one.units;
  const from = readUnit(own);
  const to = unit === "1" ? { ok: true as const, unit: { factor: 1, offset: 0 } } : readUnit(unit);
  if (!from.ok || !to.ok) throw new Error(`unit ${own} or ${unit} is not known`);
  const value = (toSI(at, from.unit) - to.unit.offset) / to.unit.factor;
  const point = from.unit.scale === "point";
  const limit = point ? `${one.limit} K` : `${(one.limit * from.unit.factor) / to.unit.factor}`;
  const behind = unit === "1" ? "" : ` ${unit}`;
  return `${one.name}: ${plain(value)}${behind} ± ${plain(Number.parseFloat(limit))}${point ? " K" : behind}`;
}

/** Enough digits that writing it down loses nothing that matters, without an exponent. */
const plain = (value: number): string => value.toFixed(12);

const within = (range: Given) => fc.double({ min: range.low, max: range.high, noNaN: true });

describe("the same job in SI and in US units gives the same values and uncertainties", () => {
  for (const { formula, gives, takes } of JOBS) {
    test(formula, () => {
      fc.assert(
        fc.property(
          fc.tuple(...takes.map(within)),
          fc.array(fc.boolean(), { minLength: takes.length, maxLength: takes.length }),
          (at, us) => {
            const result = `y [${gives}] = ${formula}`;
            const si = valuesOf([
              ...takes.map((one, i) => written(one, at[i] ?? 0, one.units[0])),
              result,
            ]).get("y");
            const mixed = valuesOf([
              ...takes.map((one, i) => written(one, at[i] ?? 0, one.units[us[i] ? 1 : 0])),
              result,
            ]).get("y");
            expect(si).toBeDefined();
            expect(mixed).toBeDefined();
            if (!si || !mixed) return;
            const size = Math.max(Math.abs(si.value), 1e-6);
            expect(Math.abs(mixed.value - si.value)).toBeLessThanOrEqual(1e-7 * size);
            expect(si.uncertainty).toBeGreaterThan(0);
            expect(Math.abs(mixed.uncertainty / si.uncertainty - 1)).toBeLessThanOrEqual(1e-6);
          },
        ),
        { numRuns: 25, seed: 1 },
      );
    });
  }

  test("and the result in any unit of its dimension is the same", () => {
    const lines = ["flow: 0.42 L/min ± 0.02 L/min", "drop: 5.5 kPa ± 0.1 kPa"];
    const shown = (unit: string) =>
      valuesOf([...lines, `y [${unit}] = orifice size(flow, drop: drop)`]).get("y");
    const mm = shown("mm");
    for (const unit of ["in", "m", "um", "ft", "cm"]) {
      const reading = readUnit(unit);
      const other = shown(unit);
      if (!mm || !other || !reading.ok) throw new Error(unit);
      expect(fromSI(mm.value / 1000, reading.unit) / other.value).toBeCloseTo(1, 10);
      expect(fromSI(mm.uncertainty / 1000, reading.unit) / other.uncertainty).toBeCloseTo(1, 10);
    }
  });
});

/** Forth and back through two functions: value and uncertainty of the reading itself must come out. */
const PAIRS: readonly { readonly takes: readonly Given[]; readonly forth: string; readonly back: string }[] =
  [
    {
      takes: [given("x", "L/min", "L/min", 0.2, 2, 0.02), given("drop", "kPa", "kPa", 2, 9, 0.1)],
      forth: "hole = orifice size(x, drop: drop)",
      back: "y [L/min] = orifice flow(hole, drop: drop)",
    },
    {
      takes: [given("x", "%", "%", 30, 80, 2), given("warm", "degC", "degC", 10, 35, 0.3)],
      forth: "dew [degC] = dew point(warm, x)",
      back: "y [%] = relative humidity(warm, dew)",
    },
    {
      takes: [
        given("x", "kPa", "kPa", 1, 5, 0.05),
        given("cold", "degC", "degC", 5, 15, 0.2),
        given("warm", "degC", "degC", 20, 45, 0.2),
      ],
      forth: "hot [kPa] = sealed pressure(x, cold, warm)",
      back: "y [kPa] = sealed pressure(hot, warm, cold)",
    },
    {
      takes: [given("x", "V", "V", 1, 4, 0.02), given("low", "V", "V", 0.4, 0.6, 0.01)],
      forth: "p [kPa] = scaled(x, low, 4.5 V, 0 kPa, 250 kPa)",
      back: "y [V] = scaled(p, 0 kPa, 250 kPa, low, 4.5 V)",
    },
    {
      takes: [given("x", "A", "A", 2, 20, 0.1), given("r", "mΩ", "mΩ", 5, 9, 0.2)],
      forth: "drop = x * r",
      back: "y [A] = drop / r",
    },
  ];

describe("forth and back gives the reading itself, with its own uncertainty and no more", () => {
  for (const { takes, forth, back } of PAIRS) {
    test(`${forth} · ${back}`, () => {
      fc.assert(
        fc.property(fc.tuple(...takes.map(within)), (at) => {
          const found = valuesOf([
            ...takes.map((one, i) => written(one, at[i] ?? 0, one.units[0])),
            forth,
            back,
          ]);
          const x = found.get("x");
          const y = found.get("y");
          if (!x || !y) throw new Error("no value");
          expect(y.value / x.value).toBeCloseTo(1, 6);
          // All other inputs cancel, since each error runs through the note as one and the same source.
          expect(y.uncertainty / x.uncertainty).toBeCloseTo(1, 5);
        }),
        { numRuns: 25, seed: 2 },
      );
    });
  }
});

describe("monotone", () => {
  type Direction = "up" | "down";
  const C = 273.15;
  const cases: readonly [
    string,
    Readonly<Record<string, readonly [number, number]>>,
    Readonly<Record<string, Direction>>,
  ][] = [
    [
      "orifice flow",
      { diameter: [1e-4, 5e-3], drop: [10, 3e5], temperature: [270, 320] },
      { diameter: "up", drop: "up", temperature: "up" },
    ],
    ["orifice size", { flow: [1e-6, 1e-3], drop: [100, 5e4] }, { flow: "up", drop: "down" }],
    [
      "decay time",
      { volume: [1e-3, 0.1], diameter: [2e-4, 2e-3], start: [2500, 5000], end: [100, 2400] },
      { volume: "up", diameter: "down", start: "up", end: "down" },
    ],
    ["depth pressure", { depth: [0.01, 5] }, { depth: "up" }],
    ["saturation pressure", { temperature: [210, 370] }, { temperature: "up" }],
    ["dew point", { temperature: [260, 320], humidity: [0.05, 1] }, { temperature: "up", humidity: "up" }],
    [
      "relative humidity",
      { temperature: [285, 320], "dew point": [255, 284] },
      { temperature: "down", "dew point": "up" },
    ],
    ["water in air", { temperature: [260, 320], humidity: [0.05, 1] }, { humidity: "up", temperature: "up" }],
    ["run time", { capacity: [1e5, 4e5], current: [0.1, 60] }, { capacity: "up", current: "down" }],
    [
      "reserve left",
      { capacity: [1.5e5, 4e5], current: [0.5, 8], time: [100, 7200] },
      { capacity: "up", current: "down", time: "down" },
    ],
    [
      "wire drop",
      { current: [0.1, 40], length: [0.1, 20], section: [1e-6, 1e-5], temperature: [250, 350] },
      { current: "up", length: "up", section: "down", temperature: "up" },
    ],
    [
      "cure time",
      { depth: [1e-3, 1e-2], temperature: [278, 310], humidity: [0.2, 0.9] },
      { depth: "up", temperature: "down", humidity: "down" },
    ],
    [
      "sealed pressure",
      { pressure: [0, 5000], temperature: [280, 295], "new temperature": [C, 330] },
      { pressure: "up", temperature: "down", "new temperature": "up" },
    ],
  ];
  for (const [name, ranges, directions] of cases) {
    for (const [argument, direction] of Object.entries(directions)) {
      test(`${name} goes ${direction} with ${argument}`, () => {
        const names = Object.keys(ranges);
        const point = fc.tuple(
          ...names.map((key) =>
            fc.double({ min: ranges[key]?.[0] ?? 0, max: ranges[key]?.[1] ?? 0, noNaN: true }),
          ),
        );
        const [least, most] = ranges[argument] ?? [0, 0];
        fc.assert(
          fc.property(point, fc.double({ min: 1e-3, max: 1, noNaN: true }), (values, share) => {
            const at = Object.fromEntries(names.map((key, i) => [key, values[i] ?? 0]));
            const from = at[argument] ?? 0;
            const to = from + share * (most - from);
            if (to - from < 1e-6 * (most - least)) return;
            const before = call(name, at);
            const after = call(name, { ...at, [argument]: to });
            expect((after - before) * (direction === "up" ? 1 : -1)).toBeGreaterThanOrEqual(
              -1e-9 * Math.abs(before),
            );
          }),
          { numRuns: 60, seed: 3 },
        );
      });
    }
  }
});

describe("unlike things do not go together, whatever they are", () => {
  const samples = [
    "0.8 psi",
    "0.42 L/min",
    "310 cm2",
    "19.5 degC",
    "9.1 A",
    "12.6 V",
    "60 s",
    "3 mm",
    "70 A.h",
    "5 N",
    "61 %",
    "2 kg",
  ];
  const pair = fc.tuple(fc.constantFrom(...samples), fc.constantFrom(...samples)).filter(([a, b]) => a !== b);

  test("sums, differences and comparisons are findings", () => {
    fc.assert(
      fc.property(pair, fc.constantFrom("+", "-", "<", ">="), ([a, b], operator) => {
        const { findings, values } = analyzeText(readings(`a: ${a}\nb: ${b}\ny = a ${operator} b`));
        expect(findings.map((one) => one.rule)).toEqual(["unit/mismatch"]);
        expect(values.find((one) => one.key === "y")?.shown).toBeUndefined();
      }),
      { seed: 4 },
    );
  });

  test("products and quotients have the product's dimension: dividing it out again gives the reading", () => {
    const scaled = samples.filter((one) => !one.includes("degC"));
    fc.assert(
      fc.property(fc.constantFrom(...scaled), fc.constantFrom(...scaled), (a, b) => {
        const found = valuesOf([`a: ${a}`, `b: ${b}`, `y [${a.replace(/^[\d.]+ /, "")}] = a * b / b`]);
        expect(found.get("y")?.value).toBeCloseTo(found.get("a")?.value ?? Number.NaN, 9);
        expect(found.get("y")?.uncertainty).toBeCloseTo(found.get("a")?.uncertainty ?? Number.NaN, 9);
      }),
      { seed: 5 },
    );
  });
});
