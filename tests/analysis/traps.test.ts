// Traps that the field falls into, each held to a figure from outside, and to the words that warn of it.
import { describe, expect, test } from "vitest";
import { page as tooCoarse } from "../../server/src/rules/instrument-too-coarse.ts";
import { page as tooHot, rule as tooHotRule } from "../../server/src/rules/moisture-too-hot.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";

function worked(lines: string, name = "y", shop?: string) {
  const analysis = analyzeText(readings(lines), { shop });
  const value = analysis.values.find((one) => one.name === name);
  if (!value) throw new Error(`no value ${name}`);
  const { assumptions, cautions, sources } = analysis.working(value);
  return {
    value: value.shown?.kind === "quantity" ? value.shown.value : Number.NaN,
    uncertainty: value.shown?.kind === "quantity" ? (value.shown.uncertainty ?? 0) : Number.NaN,
    says: [...assumptions, ...cautions, ...sources].join(" "),
    findings: analysis.findings,
  };
}

describe("inches of water and of mercury each mean three units", () => {
  test("the bare one is the conventional one, and says so with the others' names", () => {
    // Conventional columns: NIST SP 811 (2008), B.8.
    expect(worked("x: 1 inH2O\ny [Pa] = x").value).toBeCloseTo(249.0889, 4);
    expect(worked("x: 1 inHg\ny [Pa] = x").value).toBeCloseTo(3386.389, 3);
    for (const name of ["inH2O", "inHg"]) {
      const { says } = worked(`y: 10 ${name}`);
      expect(says).toContain("conventional");
      expect(says).toContain(`${name}(60degF)`);
    }
  });

  test("the others are known under names of their own (NIST SP 811, B.8)", () => {
    expect(worked("x: 1 inH2O(4degC)\ny [Pa] = x").value).toBeCloseTo(249.082, 3);
    expect(worked("x: 1 inH2O(60degF)\ny [Pa] = x").value).toBeCloseTo(248.84, 2);
    expect(worked("x: 1 inHg(0degC)\ny [Pa] = x").value).toBeCloseTo(3386.38, 2);
    expect(worked("x: 1 inHg(60degF)\ny [Pa] = x").value).toBeCloseTo(3376.85, 2);
  });
});

describe("cooling looks like a leak", () => {
  test("1 K costs a sealed housing at 14 inH2O about 1.4 inH2O (ideal gas)", () => {
    const lost = worked(
      "p: 14.0 inH2O\ny [inH2O] = p - sealed pressure(p, 295 K, 294 K, ambient: 101.325 kPa(a))",
    ).value;
    // (101325 + 14 · 249.08891) / 295 / 249.08891
    expect(lost).toBeCloseTo(1.4264, 3);
  });

  test("a decay test without temperatures says so, one with both does not", () => {
    const bare = "decay leak rate(5 L, 14 inH2O, 12.5 inH2O, 300 s";
    expect(worked(`y = ${bare})`).says).toContain("twenty times too big");
    const whole = `y = ${bare}, start temperature: 22.0 degC, end temperature: 21.0 degC)`;
    expect(worked(whole).says).not.toContain("twenty times too big");
  });

  test("the same fall with and without 1 K of cooling: a leak nearly twenty times too big", () => {
    const rate = (more: string) =>
      worked(`y = decay leak rate(5 L, 14.0 inH2O, 12.5 inH2O, 300 s, start ambient: 101.325 kPa(a)${more})`)
        .value;
    const apparent = rate("");
    const true_ = rate(", start temperature: 22 degC, end temperature: 21 degC");
    expect(apparent / true_).toBeGreaterThan(19);
    expect(apparent / true_).toBeLessThan(21);
  });
});

describe("standard means 0, 15, 20, 21.1 or 25 degC", () => {
  test("and the reference is always named", () => {
    const at = (reference: string) => worked(`y [cm3/min] = standard flow(3e-4 Pa.m3/s${reference})`);
    expect(at("").says).toContain("Standard means 101.325 kPa and 0 degC here.");
    expect(at(", reference: 20 degC").says).toContain("Standard means 101.325 kPa and 20 degC here.");
    // 293.15 / 273.15
    expect(at(", reference: 20 degC").value / at("").value).toBeCloseTo(1.0732, 3);
  });

  test("a flow in standard units is not read as one or the other", () => {
    for (const unit of ["sccm", "slpm", "scfm"]) {
      const [found] = worked(`y: 5 ${unit}`).findings;
      expect(found?.rule).toBe("unit/unknown");
      expect(found?.advice).toContain("0, 15, 20, 21.1 or 25 degC");
    }
  });
});

describe("batteries", () => {
  test("a 20-hour rating lasts 20 hours at its own current, whatever the exponent", () => {
    for (const exponent of [1, 1.2, 1.4]) {
      expect(worked(`y [h] = run time(100 A.h, 5 A, exponent: ${exponent})`).value).toBeCloseTo(20, 9);
    }
    // C / I^k would say 100 / 5^1.2 = 14.5 h.
    expect(worked("y [h] = run time(100 A.h, 5 A)").says).toContain("(C / (I · T))^k");
  });

  test("reserve capacity in minutes is no capacity in ampere-hours", () => {
    const [found, ...others] = worked("rc: 90 min\ny [h] = run time(rc, 5 A)").findings;
    expect(found?.rule).toBe("unit/mismatch");
    expect(found?.advice).toContain("no single factor");
    expect(others).toEqual([]);
  });

  test("a key-off draw has no standard limit, and the daily charge says so", () => {
    const { value, says } = worked("y [A.h] = draw per day(50 mA)");
    expect(value).toBeCloseTo(1.2, 9);
    expect(says).toContain("35 to 120 mA");
    expect(says).toContain("no source");
  });
});

test("wire tables at 20 and 75 degC are 22 % apart: copper's temperature belongs in the function", () => {
  const at = (degrees: number) =>
    worked(`y [mΩ] = wire resistance(10 m, section: 2.5 mm2, temperature: ${degrees} degC)`).value;
  // 1 + 0.00393 · 55 (temperature coefficient of annealed copper at 20 degC, IEC 60028).
  expect(at(75) / at(20)).toBeCloseTo(1.216, 2);
  expect(worked("y = wire resistance(10 m, section: 2.5 mm2)").says).toContain("copper gains 0.4 %");
});

test("no bubbles is weak evidence at a few kPa", () => {
  const { says } = worked("y = bubble leak rate(3 mm, 1, 60 s)");
  expect(says).toContain("weak evidence");
  // 4σ/p with 0.0728 N/m at 14 inH2O is 84 µm (Laplace; reference row N016).
  expect(says).toContain("80 µm");
});

test("a drying temperature for pellets is none for a lamp: the limit says that it has no source", () => {
  expect(tooHotRule.why).toContain("no drying temperature is published for an assembled lamp");
  expect(tooHot.source).toContain("no source");
  expect(tooHot.source).toContain("pellets");
});

describe("an instrument must be finer than what it is to show", () => {
  const shop =
    "instruments:\n  P5: { measures: pressure, range: 0 to 250 psi, resolution: 1 psi, accuracy: 2 % of full scale }\n";

  test("with the standard's own figures beside the rule", () => {
    expect(tooCoarse.source).toContain("ASTM E2930");
    const { findings } = worked("y: 1 psi via P5", "y", shop);
    expect(findings.map((one) => `${one.severity} ${one.rule}`)).toEqual(["error instrument/too-coarse"]);
  });

  test("and without its accuracy the hover says that the uncertainty is too small", () => {
    expect(worked("y: 0.80 psi via P9").says).toContain("The accuracy of `P9` is not known here");
    expect(worked("y: 60 psi via P5", "y", shop).says).not.toContain("is not known here");
    expect(worked("y: 0.80 psi ± 0.05 psi via P9").says).not.toContain("is not known here");
  });

  test("and two readings through one gauge share its error, which is said", () => {
    const lines = "a: 100 psi via P5\nb: 60 psi via P5\ny [psi] = a + b";
    expect(worked(lines, "y", shop).says).toContain("share its error to an unknown degree");
    // 5 psi each: together 2 · (5 + 5)/√3, apart 2 · 5 · √2/√3.
    expect(worked(lines, "y", shop).uncertainty).toBeCloseTo(20 / Math.sqrt(3), 6);
  });
});
