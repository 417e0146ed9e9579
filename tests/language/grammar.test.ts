// The reader against the declared grammar: lines derived at random from grammar/line-language.ebnf. The grammar
// is the project's own; the notation is that of the W3C (XML 1.0, chapter 6).
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  FORMULA_WORDS,
  OPERATORS,
  OUTCOME_WORDS,
  SIGNS,
  TOKENS,
  TRUTH_WORDS,
} from "../../grammar/line-language.ts";
import { readLimitsLine } from "../../server/src/language/limits-line.ts";
import { readReadingsLine } from "../../server/src/language/readings-line.ts";
import { readSeriesLine } from "../../server/src/language/series-line.ts";
import { readStepsLine } from "../../server/src/language/steps-line.ts";
import type { Line } from "../../server/src/language/syntax.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { deriver } from "../support/derive.ts";
import { readEbnf, tokensOf } from "../support/ebnf.ts";
import { nodesOf, spanFaults, uncovered } from "../support/spans.ts";

const source = readFileSync(new URL("../../grammar/line-language.ebnf", import.meta.url), "utf8");
const rules = readEbnf(source);

/** Texts of each token. What a token's pattern allows beyond them is tested by hand elsewhere. */
const SAMPLES: Readonly<Record<keyof typeof TOKENS, readonly string[]>> = {
  number: ["0", "7", "0.80", "12.0", ".5", "1200", "1.2e3", "5E-4", "2e+2"],
  fraction: ["3/16", "1/2", "1 1/2", "12 3/4"],
  word: [
    "test",
    "pressure",
    "t",
    "T",
    "Öldruck",
    "ضغط",
    "圧力",
    "key-off",
    "Δp",
    "P2",
    "shop’s",
    "e\u0301tat",
  ],
  laterWord: ["3", "12", "pressure", "2b", "T", "key-off", "ضغط"],
  unit: ["psi", "kPa(a)", "L/min", "m3", "m³", "A.h", "degC", "%", "fl oz", "delta degC", "[psi]", "kg/m^3"],
  time: ["09:10", "9:05", "23:59", "00:00"],
  toDo: ["--:--"],
  date: ["2031-03-04", "2032-02-29"],
  text: ['"smoke"', '""', '"a # b"', '"left, 2 of 3"'],
};

const tokens = Object.fromEntries(
  Object.entries(SAMPLES).map(([name, of]) => [name, fc.constantFrom(...of)]),
);
const derive = deriver(rules, tokens);

const readRow = (line: string): Line => readSeriesLine(line, line.split("#")[0]?.split(",").length ?? 1);

const LINES: readonly (readonly [rule: string, kind: Line["kind"], read: (line: string) => Line])[] = [
  ["measuredLine", "measured", readReadingsLine],
  ["formulaLine", "formula", readReadingsLine],
  ["emptyLine", "empty", readReadingsLine],
  ["limitLine", "limit", readLimitsLine],
  ["emptyLine", "empty", readLimitsLine],
  ["dateLine", "date", readStepsLine],
  ["stepLine", "step", readStepsLine],
  ["emptyLine", "empty", readStepsLine],
  ["seriesHeader", "header", (line) => readSeriesLine(line, undefined)],
  ["seriesRow", "row", readRow],
  ["seriesOption", "option", (line) => readSeriesLine(line, undefined)],
  ["emptyLine", "empty", (line) => readSeriesLine(line, 2)],
];

describe("the grammar file", () => {
  test("asks for declared tokens only, and for all of them", () => {
    expect([...tokensOf(rules)].sort()).toEqual(Object.keys(TOKENS).sort());
  });

  test("every sample of a token is one, whole", () => {
    for (const [name, samples] of Object.entries(SAMPLES)) {
      const whole = new RegExp(`^(?:${TOKENS[name as keyof typeof TOKENS]})$`, "u");
      for (const sample of samples) expect(sample, name).toMatch(whole);
    }
  });

  test("every declared operator, sign and word stands in it", () => {
    const declared = [
      ...OPERATORS.flatMap((row) => Object.entries(row.spellings).flat(2)),
      ...SIGNS.recorded,
      ...SIGNS.tolerance,
      ...FORMULA_WORDS,
      ...OUTCOME_WORDS,
      ...Object.keys(TRUTH_WORDS),
    ];
    for (const spelling of declared) expect(source).toContain(`'${spelling}'`);
  });

  test("every rule is asked for by a line", () => {
    const reached = new Set<string>(["readingsLine", "limitsLine", "stepsLine", "seriesLine"]);
    for (const name of reached) {
      const body = JSON.stringify(rules.get(name) ?? "");
      for (const match of body.matchAll(/"kind":"symbol","name":"(\w+)"/g))
        if (match[1]) reached.add(match[1]);
    }
    expect([...rules.keys()].filter((name) => !reached.has(name))).toEqual([]);
  });
});

describe("derived lines", () => {
  for (const [rule, kind, read] of LINES) {
    test(`a ${rule} is read as ${kind}, without a problem, and its spans tile it`, () => {
      fc.assert(
        fc.property(derive(rule), (line) => {
          const tree = read(line);
          expect(tree.problems).toEqual([]);
          expect(tree.kind).toBe(kind);
          const nodes = nodesOf(tree);
          expect(spanFaults(line, nodes)).toEqual([]);
          // Only blanks, the fixed signs and the fixed words belong to no node.
          expect(uncovered(line, nodes).replace(BETWEEN, "")).toBe("");
        }),
        { numRuns: 1500 },
      );
    });
  }
});

const BETWEEN = /\(acceptance\)|\b(?:via|at|until|not|is|source)\b|[\s\u00a0:=[\](),±≈~/+\-−–]/g;

// ---- Typing: one character more or less ------------------------------------------------------------

const anyLine = fc.oneof(
  ...LINES.filter(([rule]) => rule !== "emptyLine").map(([rule, , read]) =>
    derive(rule).map((line) => ({ line, read, rule })),
  ),
);
const character = fc.oneof(
  fc.constantFrom(..."()[]:=,.#\"'+-*/^<>!≈~±% \t0123456789aZéß\u00a0", "💧", "\u200f", "ه"),
  fc.string({ unit: "binary", minLength: 1, maxLength: 1 }).filter((c) => c !== "\n" && c !== "\r"),
);

const typed = fc.tuple(anyLine, fc.nat(), fc.option(character)).map(([of, place, insert]) => {
  const at = place % (of.line.length + 1);
  const line =
    insert === null
      ? of.line.slice(0, at) + of.line.slice(at + 1)
      : of.line.slice(0, at) + insert + of.line.slice(at);
  return { ...of, line };
});

describe("a line while it is typed", () => {
  test("gives at most one problem, and every span lies inside it", () => {
    fc.assert(
      fc.property(typed, ({ line, read }) => {
        const tree = read(line);
        expect(tree.problems.length).toBeLessThanOrEqual(1);
        expect(spanFaults(line, nodesOf(tree))).toEqual([]);
        for (const problem of tree.problems) {
          expect(problem.message).not.toBe("");
          expect(problem.advice).not.toBe("");
          for (const { from, to } of [problem.span, ...problem.fixes.map((fix) => fix.span)]) {
            expect(from).toBeGreaterThanOrEqual(0);
            expect(from).toBeLessThanOrEqual(to);
            expect(to).toBeLessThanOrEqual(line.length);
          }
        }
      }),
      { numRuns: 8000 },
    );
  });

  test("a fix that is offered mends the line, or leaves at most one problem", () => {
    fc.assert(
      fc.property(typed, ({ line, read }) => {
        for (const fix of read(line).problems.flatMap((problem) => problem.fixes)) {
          const mended = line.slice(0, fix.span.from) + fix.text + line.slice(fix.span.to);
          expect(read(mended).problems.length).toBeLessThanOrEqual(1);
        }
      }),
      { numRuns: 4000 },
    );
  });

  test("never changes the lines beside it", () => {
    const KIND: Readonly<Record<string, string>> = {
      measuredLine: "readings",
      formulaLine: "readings",
      limitLine: "limits",
      dateLine: "steps",
      stepLine: "steps",
    };
    const BESIDE: Readonly<Record<string, string>> = {
      readings: "flow: 0.42 L/min via F1",
      limits: "flow <= 1 L/min  source: service information",
      steps: "09:25  locate [lower seam]: found, bubbles confirm",
    };
    fc.assert(
      fc.property(
        typed.filter(({ rule, line }) => rule in KIND && !/^\s*(?:```|~~~)|[\r\n]/.test(line)),
        ({ line, rule }) => {
          const kind = KIND[rule] ?? "";
          const beside = BESIDE[kind] ?? "";
          const note = `\`\`\`${kind}\n${beside}\n${line}\n${beside}\n\`\`\`\n`;
          const block = readNote(note, readYaml).blocks[0];
          expect(block?.lines).toHaveLength(3);
          const [before, , after] = block?.lines ?? [];
          const alone =
            kind === "readings"
              ? readReadingsLine(beside)
              : kind === "limits"
                ? readLimitsLine(beside)
                : readStepsLine(beside);
          expect(before?.syntax).toEqual(alone);
          expect(after?.syntax).toEqual(alone);
          expect(note.slice(after?.offset, (after?.offset ?? 0) + (after?.length ?? 0))).toBe(beside);
        },
      ),
      { numRuns: 1500 },
    );
  });
});
