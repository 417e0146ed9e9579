// How formulas are read: what binds first, what a name is, how deep brackets go. Source: the project's own format,
// grammar/FORMAT.md; that powers bind to the right and above a minus sign before them is the custom of mathematics.
import { describe, expect, test } from "vitest";
import { DEEPEST_NESTING } from "../../grammar/line-language.ts";
import { readFormula } from "../../server/src/language/formula.ts";
import type { Expression, LineProblem } from "../../server/src/language/syntax.ts";

function read(text: string): { tree: Expression; problems: LineProblem[]; rest: string } {
  const problems: LineProblem[] = [];
  const { expression, end } = readFormula(text, 0, text.length, problems);
  return { tree: expression, problems, rest: text.slice(end) };
}

/** The tree with every bracket written out. */
function written(node: Expression): string {
  switch (node.kind) {
    case "number":
      return `${node.number.value}${node.unit ? ` ${node.unit.text}` : ""}`;
    case "name":
      return node.name.text;
    case "text":
      return `"${node.text}"`;
    case "truth":
      return node.value ? "yes" : "no";
    case "missing":
      return "?";
    case "negate":
      return `(-${written(node.operand)})`;
    case "not":
      return `(not ${written(node.operand)})`;
    case "is":
      return `(${written(node.subject)} is ${written(node.text)})`;
    case "binary":
      return `(${written(node.left)} ${node.operator} ${written(node.right)})`;
    case "call":
      return `${node.name.text}(${node.args
        .map((argument) => (argument.label ? `${argument.label.text}: ` : "") + written(argument.value))
        .join(", ")})`;
  }
}

const clean = (text: string): string => {
  const { tree, problems, rest } = read(text);
  expect(problems, text).toEqual([]);
  expect(rest.trim(), text).toBe("");
  return written(tree);
};

describe("what binds first", () => {
  test.each([
    ["a + b * c", "(a + (b * c))"],
    ["a - b - c", "((a - b) - c)"],
    ["a / b / c", "((a / b) / c)"],
    ["a / b * c", "((a / b) * c)"],
    ["a ^ b ^ c", "(a ^ (b ^ c))"],
    ["-a ^ 2", "(-(a ^ 2))"],
    ["a ^ -b", "(a ^ (-b))"],
    ["a ^ -b ^ c", "(a ^ (-(b ^ c)))"],
    ["-a * b", "((-a) * b)"],
    ["a * -b", "(a * (-b))"],
    ["a - -b", "(a - (-b))"],
    ["(a + b) * c", "((a + b) * c)"],
    ["a + b <= c - d", "((a + b) <= (c - d))"],
    ["a < b and c < d or e", "(((a < b) and (c < d)) or e)"],
    ["a or b and c", "(a or (b and c))"],
    ["not a and b", "((not a) and b)"],
    ["not a < b", "(not (a < b))"],
    ["not not a", "(not (not a))"],
    ['medium is "smoke" and a', '((medium is "smoke") and a)'],
    ["a × b ÷ c · d", "(((a * b) / c) * d)"],
    ["a − b – c", "((a - b) - c)"],
    ["a ≤ b", "(a <= b)"],
    ["a ≥ b", "(a >= b)"],
    ["a ≠ b", "(a != b)"],
    ["a*b+c", "((a * b) + c)"],
    ["a<b", "(a < b)"],
  ])("%s", (text, tree) => {
    expect(clean(text)).toBe(tree);
  });
});

describe("units and names", () => {
  test.each([
    ["10 m/s", "10 m/s"],
    ["10 m / s", "(10 m / s)"],
    ["10 m/s/s", "10 m/s/s"],
    ["10 m / s / s", "((10 m / s) / s)"],
    ["3 m^2", "3 m^2"],
    ["3 m ^ 2", "(3 m ^ 2)"],
    ["3/16 in + 1 in", "(0.1875 in + 1 in)"],
    ["3 / 16 in", "(3 / 16 in)"],
    ["1/2", "(1 / 2)"],
    ["2 A.h * 3", "(2 A.h * 3)"],
    ["5 in + in", "(5 in + in)"],
    ["h * 2 h", "(h * 2 h)"],
    ["101.3 kPa(a) + test pressure", "(101.3 kPa(a) + test pressure)"],
    ["key-off draw - rest", "(key-off draw - rest)"],
    ["a -b", "(a - b)"],
    ["a-b", "a-b"],
    ["cylinder 3 pressure / cylinder 4 pressure", "(cylinder 3 pressure / cylinder 4 pressure)"],
    ["ضغط * 2", "(ضغط * 2)"],
    ["constructor + 1", "(constructor + 1)"],
    ["yes", "yes"],
    ["5 m and 3 m", "(5 m and 3 m)"],
    ["android + order + isolation", "((android + order) + isolation)"],
  ])("%s", (text, tree) => {
    expect(clean(text)).toBe(tree);
  });

  test("neighbouring words are one name, and nothing multiplies unseen", () => {
    expect(clean("test pressure lens area")).toBe("test pressure lens area");
    expect(read("2 (a)").rest).toBe("(a)");
    expect(read("(a) b").rest).toBe("b");
    expect(read("2 3").rest).toBe("3");
  });
});

describe("calls", () => {
  test.each([
    ["orifice size(flow, drop: test pressure)", "orifice size(flow, drop: test pressure)"],
    ["orifice size (flow,drop:test pressure)", "orifice size(flow, drop: test pressure)"],
    ["mean(9.1, 9.3, 9.2 A)", "mean(9.1, 9.3, 9.2 A)"],
    ['run time(battery, chemistry: "lead")', 'run time(battery, chemistry: "lead")'],
    ["f()", "f()"],
    ["f(g(a), (b + c) * d)", "f(g(a), ((b + c) * d))"],
  ])("%s", (text, tree) => {
    expect(clean(text)).toBe(tree);
  });

  test.each(["f(", "f(a", "f(a,", "f(a b: )", "f(a; b)", "f(a: )", "f(,)"])("%s is one finding", (text) => {
    expect(read(text).problems).toHaveLength(1);
  });
});

describe("comparisons in a chain", () => {
  test.each(["a < b < c", "a == b == c", "a < b <= c + d", 'a is "x" is "y"', "a < b != c"])(
    "%s is refused",
    (text) => {
      const { problems } = read(text);
      expect(problems).toHaveLength(1);
      expect(problems[0]?.message).toBe("Two comparisons stand in one chain.");
    },
  );

  test.each(["a < b and b < c", "(a < b) == (b < c)"])("%s is not one", (text) => {
    clean(text);
  });
});

describe("deep nesting", () => {
  test("as deep as declared is read", () => {
    const deep = DEEPEST_NESTING - 2;
    expect(clean(`${"(".repeat(deep)}a${")".repeat(deep)}`)).toBe("a");
  });

  test.each([
    ["brackets", `${"(".repeat(1000)}a${")".repeat(1000)}`],
    ["open brackets", "(".repeat(1000)],
    ["calls", "f(".repeat(1000)],
    ["minus signs", `${"-".repeat(1000)}a`],
    ["nots", `${"not ".repeat(1000)}a`],
    ["powers", `${"a ^ ".repeat(1000)}a`],
  ])("a thousand %s give one finding", (_, text) => {
    const { problems } = read(text);
    expect(problems).toHaveLength(1);
    expect(problems[0]?.message).toContain("levels deep");
  });

  test("a long flat formula is no deep one", () => {
    expect(read(Array.from({ length: 300 }, () => "a").join(" + ")).problems).toEqual([]);
  });
});
