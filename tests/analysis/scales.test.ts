// What points and differences of temperature, gauge and absolute pressures do under every operation.
// Source: the project's own format, grammar/FORMAT.md; that a thermometer scale knows no sums or products of
// points follows from its arbitrary zero (interval scale; common knowledge, no source).
import { describe, expect, test } from "vitest";
import { analyzeText, readings } from "../support/analyze-text.ts";
import { quantityOf, rulesOf } from "../support/values.ts";

/** One operand of each nature, with its value in SI units. */
const OPERANDS = {
  point: { written: "20 degC", si: 293.15 },
  "other point": { written: "50 degF", si: 283.15 },
  kelvin: { written: "300 K", si: 300 },
  difference: { written: "5 delta degC", si: 5 },
  gauge: { written: "40 kPa", si: 40_000 },
  absolute: { written: "140 kPa(a)", si: 140_000 },
  number: { written: "2", si: 2 },
} as const;
type Nature = keyof typeof OPERANDS;

/** What comes out: the value in a unit asked for, or the rule that objects. */
type Outcome = readonly [value: number, unit: string] | "unit/scale-point" | "unit/mismatch";

const WRONG = "unit/scale-point";
const OTHER = "unit/mismatch";

const SUMS: readonly (readonly [Nature, Nature, Outcome, Outcome])[] = [
  // left, right, left + right, left - right
  ["point", "other point", WRONG, [10, "delta degC"]],
  ["point", "kelvin", [320, "degC"], [-280, "degC"]],
  ["point", "difference", [25, "degC"], [15, "degC"]],
  ["kelvin", "point", [320, "degC"], [6.85, "K"]],
  ["kelvin", "kelvin", [600, "K"], [0, "K"]],
  ["kelvin", "difference", [305, "K"], [295, "K"]],
  ["difference", "point", [25, "degC"], WRONG],
  ["difference", "kelvin", [305, "K"], [-295, "delta degC"]],
  ["difference", "difference", [10, "K"], [0, "K"]],
  ["gauge", "gauge", [80, "kPa"], [0, "kPa"]],
  ["gauge", "absolute", [180, "kPa(a)"], WRONG],
  ["absolute", "gauge", [180, "kPa(a)"], [100, "kPa(a)"]],
  ["absolute", "absolute", WRONG, [0, "kPa"]],
  ["point", "number", OTHER, OTHER],
  ["number", "point", OTHER, OTHER],
  ["gauge", "number", OTHER, OTHER],
  ["absolute", "number", OTHER, OTHER],
  ["gauge", "kelvin", OTHER, OTHER],
];

function outcomeOf(formula: string, unit: string | undefined): number | string {
  const text = readings(`x${unit ? ` [${unit}]` : ""} = ${formula}`);
  // 20 degC - 300 K lies below absolute zero, which is said besides; here it is the arithmetic that counts.
  const rules = rulesOf(text).filter((rule) => rule !== "reading/implausible");
  return rules.length > 0 ? rules.join(" ") : quantityOf(text, "x").value;
}

function expectOutcome(formula: string, outcome: Outcome): void {
  if (typeof outcome === "string") expect(outcomeOf(formula, undefined), formula).toBe(outcome);
  else expect(outcomeOf(formula, outcome[1]), formula).toBeCloseTo(outcome[0], 9);
}

describe("sums and differences", () => {
  for (const [left, right, sum, difference] of SUMS) {
    const a = OPERANDS[left].written;
    const b = OPERANDS[right].written;
    test(`${left} + ${right}`, () => expectOutcome(`${a} + ${b}`, sum));
    test(`${left} - ${right}`, () => expectOutcome(`${a} - ${b}`, difference));
  }
});

describe("products, quotients, powers and signs", () => {
  const natures = Object.keys(OPERANDS) as Nature[];
  for (const left of natures) {
    for (const right of natures) {
      const points = [left, right].some((nature) => nature.endsWith("point"));
      const { written: a, si: x } = OPERANDS[left];
      const { written: b, si: y } = OPERANDS[right];
      for (const sign of ["*", "/"] as const) {
        test(`${left} ${sign} ${right} ${points ? "has no meaning" : "is plain arithmetic"}`, () => {
          const formula = `(${a} ${sign} ${b})`;
          if (points) {
            expect(outcomeOf(formula, undefined)).toBe(WRONG);
          } else {
            // Divided by what it should be, in base units, it is the number one.
            const base = (nature: Nature) =>
              nature === "number" ? "" : nature === "kelvin" || nature === "difference" ? "K" : "Pa";
            const one = (nature: Nature) => `1${base(nature) && ` ${base(nature)}`}`;
            const unit = `(${one(left)} ${sign} ${one(right)})`;
            const value = sign === "*" ? x * y : x / y;
            expect(Number(outcomeOf(`${formula} / ${unit}`, undefined)) / value).toBeCloseTo(1, 9);
          }
        });
      }
    }
  }

  test("a plain number scales a difference, a gauge or an absolute pressure and leaves it what it is", () => {
    expectOutcome("2 * 5 delta degC + 20 degC", [30, "degC"]);
    expectOutcome("20 degC + 5 delta degC / 2", [22.5, "degC"]);
    expectOutcome("140 kPa(a) / 2", [70, "kPa(a)"]);
    expectOutcome("2 * 140 kPa(a) + 140 kPa(a)", WRONG);
    expectOutcome("40 kPa * 2 + 140 kPa(a)", [220, "kPa(a)"]);
  });

  test("gauge pressure times area is a force", () => {
    // 1 psi on 1 in2 is 1 lbf by definition.
    expectOutcome("3 psi * 2 in2", [6, "lbf"]);
  });

  test("a sign before a number reads below zero; before a point it has no meaning", () => {
    expectOutcome("-5 degC", [-5, "degC"]);
    expect(rulesOf(readings("a: 5 degC\nb = -a"))).toEqual([WRONG]);
    expect(rulesOf(readings("a: 5 degC\nb = a ^ 2"))).toEqual([WRONG]);
    expectOutcome("-(40 kPa)", [-40, "kPa"]);
  });

  test("degrees inside a product of units are steps, not points", () => {
    expectOutcome("10 W/(m2.K) * 2 m2 * 5 delta degC", [100, "W"]);
    expectOutcome("6 degC/min * 2 min + 20 degC", [32, "degC"]);
  });
});

describe("comparisons", () => {
  const natures = (Object.keys(OPERANDS) as Nature[]).filter((nature) => nature !== "number");
  const TEMPERATURES = new Set<Nature>(["point", "other point", "kelvin", "difference"]);
  const refused = (left: Nature, right: Nature): string | undefined => {
    if (TEMPERATURES.has(left) !== TEMPERATURES.has(right)) return OTHER;
    const pair = new Set([left, right].map((nature) => nature.replace("other ", "")));
    if (pair.has("point") && pair.has("difference")) return WRONG;
    return pair.has("gauge") && pair.has("absolute") ? WRONG : undefined;
  };
  for (const left of natures) {
    for (const right of natures) {
      const rule = refused(left, right);
      test(`${left} with ${right}: ${rule ?? "compared"}`, () => {
        const { written: a, si: x } = OPERANDS[left];
        const { written: b, si: y } = OPERANDS[right];
        const text = readings(`x = ${a} < ${b}`);
        expect(rulesOf(text)).toEqual(rule ? [rule] : []);
        if (!rule) {
          const shown = analyzeText(text).values[0]?.shown;
          expect(shown?.text).toBe(x < y ? "yes" : "no");
        }
      });
    }
  }
});

// A difference is written in the unit that its operands are read in, without their zero.
describe("the unit of a difference", () => {
  test.each<[formula: string, value: number, unit: string]>([
    ["3 psia - 1 psia", 2, "psi"],
    ["140 kPa(a) - 101 kPa(a)", 39, "kPa"],
    ["3 bar(a) - 100 kPa(a)", 2, "bar"],
    ["30 inHg(a) - 28 inHg(a)", 2, "inHg"],
    ["80 degF - 60 degF", 20, "delta degF"],
    ["80 degF - 20 degC", 12, "delta degF"],
    ["80 degC - 60 degC", 20, "K"],
    ["3 psia - 1 psi", 2, "psia"],
  ])("of %s is %f %s", (formula, value, unit) => {
    const got = quantityOf(readings(`x = ${formula}`), "x");
    expect(got.unit).toBe(unit);
    expect(got.value).toBeCloseTo(value, 9);
  });
});

describe("units asked for in brackets", () => {
  test.each([
    ["x [kPa] = 140 kPa(a)", OTHER],
    ["x [kPa(a)] = 40 kPa", OTHER],
    ["x [degC] = 20 degC - 10 degC", OTHER],
    ["x [K] = 20 degC - 10 degC", undefined],
    ["x [K] = 20 degC + 5 K", undefined],
    ["x [degF] = 20 degC", undefined],
    ["x [psi] = 140 kPa(a) - 101 kPa(a)", undefined],
    ["x [N] = 3 psi * 2 in2", undefined],
    ["x [A] = 3 psi", OTHER],
  ])("%s", (line, rule) => {
    expect(rulesOf(readings(line))).toEqual(rule ? [rule] : []);
  });
});

describe("pressures that are absolute by their nature", () => {
  test.each(["ambient pressure", "barometer", "manifold absolute pressure"])(
    "%s written bare is asked to say so, and serves as absolute all the same",
    (name) => {
      const text = readings(`${name}: 98.5 kPa\nsum = 40 kPa + ${name}`);
      const { findings } = analyzeText(text);
      expect(findings.map((finding) => finding.rule)).toEqual([WRONG]);
      const edit = findings[0]?.fixes[0]?.edits[0];
      if (!edit) throw new Error("no fix");
      const mended = text.slice(0, edit.range.from) + edit.text + text.slice(edit.range.to);
      expect(mended).toContain("98.5 kPa(a)");
      expect(rulesOf(mended)).toEqual([]);
      expect(quantityOf(text, "sum").value).toBeCloseTo(138.5, 9);
      expect(quantityOf(mended, "sum").unit).toBe("kPa(a)");
    },
  );

  test("gauge against absolute offers the ambient pressure of the note", () => {
    const text = readings("ambient pressure: 98.5 kPa(a)\np: 40 kPa\nhigh = p > 120 kPa(a)");
    const edit = analyzeText(text).findings[0]?.fixes[0]?.edits[0];
    if (!edit) throw new Error("no fix");
    const mended = text.slice(0, edit.range.from) + edit.text + text.slice(edit.range.to);
    expect(mended).toContain("(p + ambient pressure)");
    expect(rulesOf(mended)).toEqual([]);
  });

  test("kelvin that stayed kelvin may stand where a function wants a temperature", () => {
    expect(rulesOf(readings("a = dew point(300 K - 5 delta degC, 61 %)"))).toEqual([]);
    expect(rulesOf(readings("a = dew point(20 degC - 10 degC, 61 %)"))).toEqual([WRONG]);
  });
});
