// What a shop file's formulas may get wrong, each told where it stands in the file, and never a crash.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stringify } from "yaml";
import { readShop } from "../../server/src/check/read-shop.ts";
import { shopFindings } from "../../server/src/check/shop-findings.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";

/** `severity rule «underlined» message` for each finding. */
const findings = (formulas: string): string[] => {
  const text = `formulas:\n${formulas}`;
  return shopFindings(readShop(text, readYaml, builtInProcedures)).map(
    ({ severity, rule, range, message }) =>
      `${severity} ${rule} «${text.slice(range.from, range.to)}» ${message}`,
  );
};
const one = (takes: string, formula: string, unit: string): string =>
  `  f: { takes: ${takes}, formula: ${formula}, unit: ${unit}, source: test }\n`;

describe("findings on formulas of the shop's own", () => {
  it.each([
    [
      "dimensions added",
      one("{ p: kPa, v: L }", "p + v", "kPa"),
      "error unit/mismatch «+» A pressure (kPa) and a volume (L) cannot be added.",
    ],
    [
      "a result of another kind",
      one("{ p: kPa, v: L }", "p * v", "kPa"),
      "error unit/mismatch «kPa» The result is an energy or torque (J), and `kPa` stands for a pressure.",
    ],
    [
      "a difference shown as a point",
      one("{ t: degC, u: degC }", "t - u", "degC"),
      "error unit/mismatch «degC» A temperature (K) cannot be shown in `degC`, since it is a difference; write `K`.",
    ],
    [
      "a point multiplied",
      one("{ t: degC }", "2 * t", "degC"),
      "error unit/scale-point «*» A temperature in degC or degF cannot be multiplied or divided.",
    ],
    [
      "gauge less absolute",
      one("{ p: kPa, q: kPa(a) }", "p - q", "kPa"),
      "error unit/scale-point «-» An absolute pressure cannot be taken away from a gauge pressure.",
    ],
    [
      "a wrong argument, inside quotes",
      one("{ q: L/min }", '"orifice size(q, drop: 3 m)"', "mm"),
      "error unit/mismatch «3 m» `orifice size` needs a pressure (kPa) for its drop and gets a length (m).",
    ],
    [
      "an exponent with a unit",
      one("{ x: m }", "2 ^ x", '"1"'),
      "error unit/mismatch «^» A length (m) cannot be an exponent.",
    ],
    [
      "yes or no",
      one("{ x: m }", '"x > 3 m"', '"1"'),
      "error unit/mismatch «x > 3 m» A formula of the shop gives a number, and this gives no.",
    ],
    [
      "an unknown name",
      one("{ speed: m/s }", "spede * 2", "m/s"),
      "error reading/undefined «spede» `spede` is nothing that this formula takes.",
    ],
    [
      "an unknown function",
      one("{ x: m }", "sqare(x)", "m"),
      "error reading/undefined «sqare» No function is called `sqare`.",
    ],
    [
      "an unknown unit in it",
      one("{ x: m }", "x + 3 metrs", "m"),
      "error unit/unknown «metrs» `metrs` is no known unit.",
    ],
    [
      "an unknown unit of a value",
      one("{ x: metrs }", "x", "m"),
      "error note/front-matter «metrs» `metrs` is no known unit.",
    ],
    [
      "a formula that stops short",
      one("{ x: m }", '"x +"', "m"),
      "error note/syntax «+» The formula stops short: a value is missing here.",
    ],
    [
      "a decimal comma",
      one("{ x: m }", '"1,5 * x"', "m"),
      "error unit/decimal-comma «1,5» `1,5` is written with a comma.",
    ],
    [
      "a recorded result behind it",
      one("{ x: m }", '"x * 2 ≈ 4 m"', "m"),
      "error note/syntax «≈ 4 m» The formula cannot be read from `≈ 4 m` on.",
    ],
    ["itself", one("{ x: m }", "f(x)", "m"), "error reading/circular «f(x)» `f` calls itself."],
    [
      "a value that it does not use",
      one("{ x: m, y: m }", "x", "m"),
      "warning note/front-matter «x» The formula takes `y` and does nothing with it.",
    ],
    [
      "a default of another kind",
      one("{ x: { unit: m, default: 3 L } }", "x", "m"),
      "error note/front-matter «3 L» `x` needs a length; `3 L` is a volume.",
    ],
    [
      "a default that is a list",
      one('{ x: { unit: m, default: "3, 4 m" } }', "x", "m"),
      "error note/front-matter «3, 4 m» `3, 4 m` cannot stand in for a value.",
    ],
    [
      "a default with a percentage on a scale",
      one("{ t: { unit: degC, default: 20 degC ± 5 % } }", "t", "degC"),
      "error note/front-matter «%» A percentage of a temperature in degC depends on its zero.",
    ],
    [
      "ambient pressure as a gauge pressure",
      one("{ p: { unit: kPa, default: ambient pressure } }", "p", "kPa"),
      "error note/front-matter «ambient pressure» The ambient pressure is an absolute pressure.",
    ],
    [
      "a must behind a may",
      one("{ x: { unit: m, default: 3 m }, y: m }", "x + y", "m"),
      "error note/front-matter «y» `y` must be given, and stands behind a value that may be left out.",
    ],
    [
      "a range turned round",
      one("{ x: { unit: m, range: 5 to 3 m } }", "x", "m"),
      "error note/front-matter «5 to 3 m» The range's lower end is not below its upper end.",
    ],
    [
      "a range of another kind",
      one("{ x: { unit: m, range: at most 3 s } }", "x", "m"),
      "error note/front-matter «3 s» The range of `x` of the formula `f` needs a length; `3 s` is a time.",
    ],
    [
      "a name that is no name",
      one("{ x y z-: m }", "3 m", "m"),
      "error note/front-matter «x y z-» `x y z-` cannot stand for a value in a formula.",
    ],
    [
      "no value for whatever is tried",
      one("{ x: m }", '"1 m / (x - x)"', '"1"'),
      "warning reading/out-of-validity «1 m / (x - x)» For none of the values tried did this formula have a value, so its units could not be checked.",
    ],
    [
      "no source",
      "  f: { takes: { x: m }, formula: 2 * x, unit: m }\n",
      "info note/front-matter «f» `f` names no source.",
    ],
    [
      "a built-in function",
      "  Force On: { formula: 3 N, unit: N, source: t }\n",
      "error note/front-matter «Force On» `force on` is a built-in function, and a shop file cannot change what it works out.",
    ],
    [
      "a question of find",
      "  has: { formula: 3 N, unit: N, source: t }\n",
      "error note/front-matter «has» `has` is a question that `find` asks.",
    ],
    [
      "a name that no note can call",
      "  2 times: { formula: 3 N, unit: N, source: t }\n",
      "error note/front-matter «2 times» `2 times` cannot be the name of a formula: a note could not call it.",
    ],
    [
      "no unit",
      "  f: { formula: 3 N, source: t }\n",
      "error note/front-matter «f» `unit` is missing for the formula `f`.",
    ],
    [
      "a text in its place",
      "  f: 3 N\n",
      "error note/front-matter «3 N» Keys and values are needed here for the formula `f`.",
    ],
    [
      "the same name twice",
      "  f: { formula: 3 N, unit: N, source: t }\n  F: { formula: 4 N, unit: N, source: t }\n",
      "error note/front-matter «F» `F` is there already; capitals make no difference.",
    ],
  ])("%s", (_what, formulas, expected) => {
    expect(findings(formulas)).toEqual([expected]);
  });

  it("a colon in a formula without quotes is one finding, and not also a missing unit", () => {
    const formulas =
      "  f:\n    takes: { x: L/min }\n    formula: orifice size(x, drop: 3 psi)\n    unit: mm\n    source: t\n";
    expect(findings(formulas)).toEqual([
      expect.stringContaining("This value has a colon and a blank in it, which starts another key."),
    ]);
  });

  it("a circle of formulas is told once, whole, and what calls into it stays silent", () => {
    const call = (name: string, called: string) =>
      `  ${name}: { takes: { x: m }, formula: ${called}(x), unit: m, source: t }\n`;
    expect(findings(call("outer", "b") + call("b", "c") + call("c", "d") + call("d", "b"))).toEqual([
      "error reading/circular «c(x)» These formulas call each other in a circle: `b` → `c` → `d` → `b`.",
    ]);
  });

  it("formulas that multiply each other's work are refused before a note can be slowed down", () => {
    const doubling = Array.from({ length: 60 }, (_, i) =>
      i === 0
        ? "  f0: { takes: { x: m }, formula: x, unit: m, source: t }\n"
        : `  f${i}: { takes: { x: m }, formula: f${i - 1}(x) + f${i - 1}(x), unit: m, source: t }\n`,
    ).join("");
    expect(findings(doubling)).toEqual([
      expect.stringContaining("works out too much: with all that it calls it has more than 500 parts."),
    ]);
    const shop = `formulas:\n${doubling}`;
    expect(analyzeText(readings("y = f59(1 m)"), { shop }).findings).toMatchObject([
      { rule: "reading/undefined" },
    ]);
    const chain = Array.from(
      { length: 199 },
      (_, i) => `  f${i}: { takes: { x: m }, formula: f${i + 1}(x), unit: m, source: t }\n`,
    ).join("");
    expect(findings(`${chain}  f199: { takes: { x: m }, formula: x, unit: m, source: t }\n`)).toEqual([]);
  });

  it("nothing that may stand there brings the reader down, and every finding lies in the file", () => {
    const word = fc.constantFrom(
      "x",
      "y",
      "m",
      "kPa",
      "degC",
      "3 m",
      "2 * x",
      "f(x)",
      "x + y",
      "±",
      "1 to 2 m",
      "%",
      "",
      "ambient pressure",
      "0",
      "\u{1F527}",
      "__proto__",
      "constructor",
    );
    const leaf = fc.oneof(word, fc.string({ maxLength: 12 }), fc.integer(), fc.boolean(), fc.constant(null));
    const keys = fc.constantFrom(
      "takes",
      "formula",
      "unit",
      "range",
      "default",
      "says",
      "equals",
      "also",
      "source",
      "x",
      "y",
      "f",
      "can",
      "__proto__",
      "constructor",
    );
    const tree = fc.letrec((tie) => ({
      node: fc.oneof(
        { maxDepth: 4 },
        leaf,
        fc.array(tie("node"), { maxLength: 3 }),
        fc.dictionary(keys, tie("node"), { maxKeys: 5 }),
      ),
    })).node;
    fc.assert(
      fc.property(
        fc.dictionary(keys, tree, { maxKeys: 4 }),
        fc.dictionary(keys, tree, { maxKeys: 4 }),
        (units, formulas) => {
          const text = stringify({ units, formulas });
          const shop = readShop(text, readYaml, builtInProcedures);
          for (const { range } of shop.problems) {
            expect(range.from).toBeGreaterThanOrEqual(0);
            expect(range.to).toBeLessThanOrEqual(text.length);
          }
          analyzeText(readings("a: 3 can\nb = f(a)\nc = x(a, y: 3 m)"), { shop: text });
        },
      ),
      { numRuns: 400 },
    );
  });
});
