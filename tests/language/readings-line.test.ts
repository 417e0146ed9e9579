// Lines of a readings block, statement by statement. Source: the project's own format, grammar/FORMAT.md.
import { describe, expect, test } from "vitest";
import { readReadingsLine } from "../../server/src/language/readings-line.ts";
import type { MeasuredLine, ReadingsLine } from "../../server/src/language/syntax.ts";

const clean = (line: string): ReadingsLine => {
  const syntax = readReadingsLine(line);
  expect(syntax.problems, line).toEqual([]);
  return syntax;
};
const measured = (line: string): MeasuredLine => {
  const syntax = clean(line);
  if (syntax.kind !== "measured") throw new Error(`${line} was read as ${syntax.kind}`);
  return syntax;
};
const numbers = (line: string): number[] => {
  const { value } = measured(line);
  if (value.kind !== "number") throw new Error(`${line} holds ${value.kind}`);
  return value.numbers.map((number) => number.value);
};
const only = (line: string) => {
  const { problems } = readReadingsLine(line);
  expect(problems, line).toHaveLength(1);
  const [problem] = problems;
  if (!problem) throw new Error("no problem");
  return problem;
};
const mended = (line: string, which = 0): string => {
  const fix = only(line).fixes[which];
  if (!fix) throw new Error(`no fix for ${line}`);
  return line.slice(0, fix.span.from) + fix.text + line.slice(fix.span.to);
};

describe("names", () => {
  test.each([
    ["test pressure: 0.8 psi", "test pressure"],
    ["cylinder 3 pressure: 11 bar", "cylinder 3 pressure"],
    ["key-off draw: 23 mA", "key-off draw"],
    ["Öldruck: 3 bar", "Öldruck"],
    ["ضغط الاختبار: 0.8 psi", "ضغط الاختبار"],
    ["試験圧力: 5 kPa", "試験圧力"],
    ["Δp: 3 kPa", "Δp"],
    ["e\u0301tat: good", "e\u0301tat"],
    ["wheel  speed\t2: 3 V", "wheel speed 2"],
    ["oil\u00a0pressure: 3 bar", "oil pressure"],
    ["t: 3 s", "t"],
    ["dew point: 12 degC", "dew point"],
    ["2b: x", undefined],
    ["3 cylinder: x", undefined],
  ])("%s", (line, name) => {
    const syntax = readReadingsLine(line);
    expect("name" in syntax ? syntax.name?.text : undefined).toBe(name);
    if (name !== undefined) expect(syntax.problems).toEqual([]);
  });

  test("case makes no difference", () => {
    expect(measured("Test Pressure: 1 psi").name.key).toBe(measured("test pressure: 1 psi").name.key);
  });

  test.each(["gain and loss: 5 V", "on or off: yes", "not measured: 5", "this is it: 4 A", "yes: 5 A"])(
    "%s uses a word that formulas need",
    (line) => {
      expect(only(line).message).toContain("cannot stand in a name");
      expect(readReadingsLine(line).kind).toBe("broken");
    },
  );

  test("such a word inside a longer one, or joined by hyphens, is part of a name", () => {
    expect(measured("drain-and-refill: done").name.text).toBe("drain-and-refill");
    expect(measured("android head unit: fitted").name.text).toBe("android head unit");
    expect(measured("yes votes: 3").name.text).toBe("yes votes");
  });

  test("names that JavaScript's objects have of their own are plain names", () => {
    expect(measured("constructor: 5 A").name.key).toBe("constructor");
    expect(measured("medium: constructor").value).toMatchObject({ kind: "text", text: "constructor" });
  });
});

describe("measured values", () => {
  test.each([
    ["p: 0.80 psi", 0.8],
    ["p: 0.80psi", 0.8],
    ["p: .5 psi", 0.5],
    ["p: -3 degC", -3],
    ["p: −3 degC", -3],
    ["p: +3 degC", 3],
    ["p: 1.2e3 Pa", 1200],
    ["p: 3/16 in", 3 / 16],
    ["p: 1 1/2 in", 1.5],
    ["p:\t41\tA", 41],
    ["p:\u00a041\u00a0A", 41],
    ["p: 12", 12],
  ])("%s", (line, value) => {
    expect(numbers(line)).toEqual([value]);
  });

  test("an improper mixed fraction is not guessed at", () => {
    expect(readReadingsLine("p: 1 5/2 in").problems).toHaveLength(1);
    expect(readReadingsLine("p: 3/0 in").problems).toHaveLength(1);
  });

  test("the step of the last digit comes from the digits shown", () => {
    const steps = ["0.42", "12.0", "1.2e3", "7", "3/16"].map((digits) => {
      const { value } = measured(`flow: ${digits} in`);
      return value.kind === "number" ? value.numbers[0]?.step : undefined;
    });
    expect(steps).toEqual([0.01, 0.1, 100, 1, 1 / 16]);
  });

  test("a list keeps every reading; the unit stands once, behind the last", () => {
    expect(numbers("supply current: 9.1, 9.3, 9.2 A via C1")).toEqual([9.1, 9.3, 9.2]);
    expect(numbers("temperatures: -1, 0, 1.5 degC")).toEqual([-1, 0, 1.5]);
    expect(numbers("each with its own: 9.1 A, 9.3 A")).toEqual([9.1, 9.3]);
  });

  test("two units in one list are not drawn together in silence", () => {
    expect(only("supply current: 9.1 A, 930 mA").message).toContain("two units");
  });

  test("a list that ends with a comma is not finished", () => {
    expect(only("supply current: 9.1, 9.3,").message).toContain("ends with a comma");
  });

  test.each([
    ["medium: smoke", "smoke"],
    ["medium: smoke, then soapy water", "smoke, then soapy water"],
    ['medium: "smoke"', "smoke"],
    ['complaint: "3 drops"', "3 drops"],
    ["seen: 💧 left side", "💧 left side"],
    ["started: 09:10", "09:10"],
    ["day: 2031-03-04", "2031-03-04"],
    ["part: see #4 on the drawing", "see #4 on the drawing"],
  ])("%s is text", (line, text) => {
    expect(measured(line).value).toMatchObject({ kind: "text", text });
  });

  test("yes and no are truths, in any case", () => {
    expect(measured("leaks: yes").value).toMatchObject({ kind: "truth", value: true });
    expect(measured("leaks: No").value).toMatchObject({ kind: "truth", value: false });
  });

  test("an emoji before a value shifts its columns by two UTF-16 units", () => {
    const line = "flow 2: 0.42 L/min  # 💧";
    expect(measured(line).comment?.text).toBe("💧");
    const broken = "flow: 💧 0.42 L/min";
    expect(measured(broken).value).toMatchObject({ kind: "text" });
    const formula = 'wet = medium is "💧" or flow > 0.42 L/min';
    const syntax = clean(formula);
    const right =
      syntax.kind === "formula" && syntax.formula.kind === "binary" ? syntax.formula.right : undefined;
    expect(formula.slice(right?.span.from, right?.span.to)).toBe("flow > 0.42 L/min");
  });

  test("rough numbers are neither numbers nor text", () => {
    for (const line of ["p: <5 psi", "p: ~ 5 psi", "p: ca. 5 psi", "p: about 5 psi"]) {
      expect(only(line).advice).toContain("±");
    }
  });

  test.each(["p:", "p: ", "p: # nothing yet"])("%s: a value is missing", (line) => {
    expect(only(line).message).toContain("Nothing stands after the colon");
    expect(readReadingsLine(line)).toMatchObject({ kind: "broken", name: { key: "p" } });
  });
});

describe("decimal commas and grouped digits are never guessed at", () => {
  test("0,9 has one meaning and one fix", () => {
    expect(only("p: 0,9 psi").rule).toBe("unit/decimal-comma");
    expect(only("p: 0,9 psi").fixes).toHaveLength(1);
    expect(mended("p: 0,9 psi")).toBe("p: 0.9 psi");
  });

  test("1,200 has two meanings and offers both", () => {
    expect(mended("i: 1,200 A", 0)).toBe("i: 1.200 A");
    expect(mended("i: 1,200 A", 1)).toBe("i: 1200 A");
  });

  test("commas without blanks between several numbers are a list that lacks its blanks", () => {
    expect(mended("i: 9,3,9 A")).toBe("i: 9, 3, 9 A");
  });

  test("also in a formula, behind ± and in a recorded result", () => {
    for (const line of ["f = 0,9 psi * 2 cm2", "p: 5 psi ± 0,1 psi", "f = a * 2 ≈ 1,5 N"]) {
      expect(only(line).rule, line).toBe("unit/decimal-comma");
    }
  });

  test("41 200 is drawn together by its fix", () => {
    expect(mended("odometer: 41 200 km")).toBe("odometer: 41200 km");
  });
});

describe("clauses behind a value", () => {
  const parts = ["± 0.05 psi", "via P2", "at 09:10"];
  const orders = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
  ];
  test.each(orders)("order %i %i %i", (...order) => {
    const line = measured(`p: 0.80 psi ${order.map((i) => parts[i]).join(" ")}`);
    expect(line.tolerance?.number.value).toBe(0.05);
    expect(line.tolerance?.unit?.text).toBe("psi");
    expect(line.instrument?.text).toBe("P2");
    expect(line.at?.minutes).toBe(9 * 60 + 10);
  });

  test("± may be typed +/- and takes a unit, a percent sign or neither", () => {
    expect(measured("p: 5 psi +/- 2 %").tolerance?.unit?.text).toBe("%");
    expect(measured("p: 5 psi ±0.1").tolerance).toMatchObject({ number: { value: 0.1 } });
    expect(measured("p: 5 psi±0.1 psi").tolerance?.unit?.text).toBe("psi");
  });

  test("each at most once", () => {
    expect(only("p: 5 psi via P2 via P3").message).toContain("twice");
    expect(only("p: 5 psi ± 1 ± 2").message).toContain("twice");
    expect(only("p: 5 psi at 09:10 at 09:20").message).toContain("twice");
  });

  test.each([
    "p: 5 psi via",
    "p: 5 psi at",
    "p: 5 psi at noon",
    "p: 5 psi ±",
    "p: 5 psi smoke",
    "p: 5 psi 6",
  ])("%s is one finding", (line) => {
    only(line);
  });
});

describe("the unit asked for in brackets", () => {
  test.each([
    ["leak size [mm] = orifice size(flow, drop: p)", "mm"],
    ["leak size[mm]=3 mm", "mm"],
    ["p [kPa(a)]: 101.3", "kPa(a)"],
    ["p [[psi]]: 3", "[psi]"],
    ["p [[psi]\u00a0]\u00a0: 3", "[psi]"],
    ["leak size [] = 3 mm", undefined],
  ])("%s", (line, unit) => {
    const syntax = clean(line);
    expect("displayUnit" in syntax ? syntax.displayUnit?.text : undefined).toBe(unit);
  });

  test("a bracket that is never closed", () => {
    expect(only("leak size [mm = 3").message).toContain("never closed");
    expect(readReadingsLine("leak size [mm = 3")).toMatchObject({ name: { key: "leak size" } });
  });
});

describe("recorded results", () => {
  test.each([
    ["f [N] = p * a ≈ 171 N", 171, 0],
    ["f [N] = p * a ~= 171.0 N", 171, 1],
    ["f [N] = p * a≈-3.50 N", -3.5, 2],
    ["n = 3 / 2 ≈ 1.5", 1.5, 1],
    ["q = 2 * 600 Pa ≈ 1.2e3 Pa", 1200, -2],
  ])("%s", (line, value, decimals) => {
    const syntax = clean(line);
    expect(syntax).toMatchObject({ kind: "formula", recorded: { number: { value }, decimals } });
  });

  test("nothing but a comment may follow one", () => {
    expect(only("f = p * a ≈ 171 N via P2").message).toContain("does not belong");
    expect(clean("f = p * a ≈ 171 N  # by hand").comment?.text).toBe("by hand");
    expect(only("f = p * a ≈").message).toContain("No number");
  });
});

describe("comments", () => {
  test.each([
    ["# a remark", "a remark"],
    ["#", ""],
    ["  # a remark", "a remark"],
    ["p: 5 psi # a remark", "a remark"],
    ["p: 5 psi  #\ta remark", "a remark"],
    ["p: 5 psi # accept limit/not-proven: as found", "accept limit/not-proven: as found"],
    ["part: #4", undefined],
    ["part: a#b", undefined],
    ['part: "a # b"', undefined],
  ])("%s", (line, text) => {
    expect(clean(line).comment?.text).toBe(text);
  });
});

describe("recovery", () => {
  test.each([
    "p",
    "p 5",
    "p ; 5",
    "p = ",
    "p = 3 +",
    "p = (3",
    "p = 3)",
    "p = f(3,",
    "p = 3 4",
    "p = 3, 4",
    "p = ± 3",
    "p = 3 A ± 1 A",
    'p = q is "open',
    "p = 3 = 4",
    "p == 3",
    "p = *",
    "p = ?",
  ])("%s gives one finding and still defines p", (line) => {
    only(line);
    expect(readReadingsLine(line)).toMatchObject({ name: { key: line.startsWith("p 5") ? "p 5" : "p" } });
  });

  test("a colon that was left out is offered in front of the number", () => {
    expect(mended("hose length 3 m")).toBe("hose length: 3 m");
    expect(mended("hose length 3.5 m")).toBe("hose length: 3.5 m");
  });

  test("a single = inside a formula offers ==", () => {
    expect(mended("same = a = b")).toBe("same = a == b");
  });

  test("a list mark before the name is named in the advice", () => {
    expect(only("- p: 5 psi").advice).toContain("list mark");
  });
});
