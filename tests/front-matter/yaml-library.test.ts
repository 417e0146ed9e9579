import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import type { YamlNode } from "../../server/src/note/yaml-tree.ts";
import { asResolved } from "../../server/src/note/yaml-values.ts";
import { frontMatterText, mutated } from "./texts.ts";

const under = (text: string, node: { range: { from: number; to: number } }, offset: number): string =>
  text.slice(node.range.from - offset, node.range.to - offset);

function everyNode(node: YamlNode, visit: (node: YamlNode) => void): void {
  visit(node);
  if (node.kind === "list") for (const item of node.items) everyNode(item, visit);
  if (node.kind === "map") for (const { value } of node.entries) everyNode(value, visit);
}

/** `«underlined» message` of each problem. */
const problems = (text: string): string[] =>
  readYaml(text, 5).problems.map((problem) => `«${under(text, problem, 5)}» ${problem.message}`);

describe("the full YAML reader", { timeout: 60_000 }, () => {
  it("reads every JSON object as JSON does (YAML 1.2 takes JSON as it is)", () => {
    const json = fc.dictionary(fc.string(), fc.jsonValue({ maxDepth: 4, noUnicodeString: false }));
    fc.assert(
      fc.property(json, fc.constantFrom(0, 2), (value, indent) => {
        // A key without letters, and one that would change the object itself, are not for a shop or a note.
        const plainKeys = (_key: string, v: unknown): unknown =>
          v && typeof v === "object" && !Array.isArray(v)
            ? Object.fromEntries(Object.entries(v).map(([k, x]) => [`k${k}`, x]))
            : v;
        const text = JSON.stringify(value, plainKeys, indent);
        if (text.includes("\u007f")) return;
        const { tree, problems: found } = readYaml(text, 0);
        expect(found, text).toEqual([]);
        expect(tree && asResolved(tree), text).toEqual(JSON.parse(text));
      }),
      { numRuns: 150 },
    );
  });

  it("gives exact ranges for every kind of value, with either line end", () => {
    for (const end of ["\n", "\r\n"]) {
      const text = [
        "plain: two words   # why",
        "folded: one",
        "  two",
        'double: "a: \\u0062"',
        "single: 'it''s'",
        "block: |",
        "  line",
        "  line",
        "",
        "list:",
        "  - 😀 first",
        "  - { deep: [1, 007] }",
        "empty:",
        "last: ~",
      ].join(end);
      const { tree, problems: found } = readYaml(text, 5);
      expect(found).toEqual([]);
      const shown: Record<string, string> = {};
      if (tree?.kind === "map") {
        for (const entry of tree.entries) {
          expect(under(text, { range: entry.keyRange }, 5)).toBe(entry.key);
          shown[entry.key] = under(text, entry.value, 5).replaceAll("\r", "");
        }
      }
      expect(shown).toEqual({
        plain: "two words",
        folded: "one\n  two",
        double: '"a: \\u0062"',
        single: "'it''s'",
        block: "|\n  line\n  line",
        list: "- 😀 first\n  - { deep: [1, 007] }",
        empty: "",
        last: "~",
      });
      const scalars: [unknown, string][] = [];
      if (tree) everyNode(tree, (node) => node.kind === "scalar" && scalars.push([node.value, node.source]));
      expect(scalars).toEqual([
        ["two words", "two words"],
        ["one two", "one two"],
        ["a: b", "a: b"],
        ["it's", "it's"],
        ["line\nline\n", "line\nline\n"],
        ["😀 first", "😀 first"],
        [1, "1"],
        [7, "007"],
        [null, ""],
        [null, "~"],
      ]);
    }
  });

  it.each([
    [
      'path: "C:\\new\\logs"',
      '«\\logs"» In double quotes, `\\l` stands for a special character that does not exist.',
    ],
    ["a: @home", '«@» A value cannot start with "@".'],
    ["a: `code`", '«`» A value cannot start with "`".'],
    ["a: ? really", "«? really» A value cannot start with a question mark and a blank."],
    ["a: - dash", "«- dash» A dash and a blank start a list, which cannot stand on the line of its key."],
    ["a: > 5 psi", "«5 psi» A value that starts with `>` or `|` is text that begins on the next line."],
    ["a: 'it's'", "«s'» Something follows after the closing quote or bracket."],
    ["a: 1\n  b: 2", "«1» The line below is set in as if it belonged to this value."],
    ["  a: 1\nb: 2", "«b: 2» This line is not set in like the lines it belongs with."],
    ["a:\n - b\n c: 1", "« c: 1» This line is not set in like the lines it belongs with."],
    ["a\nb: 1", "«a» This line is no `key: value`."],
    ["a: 1\n---\nb: 2", "«---» A second part starts here; only the first is read."],
    ["a: {b: 1\n", "«{b: 1» A bracket ({) opens here and is never closed."],
    [": x", "«:» No key stands before this colon."],
    ["? [a]\n: 1", "«[a]» `[a]` has a special meaning in YAML, which is not used here."],
    ["<<: *base\na: 1", "«<<» `<<` has a special meaning in YAML, which is not used here."],
    ["a: !!binary x", "«!!binary» `!!binary` has a special meaning in YAML, which is not used here."],
    ["a: !!! stop", "«!!!» `!!!` has a special meaning in YAML, which is not used here."],
    ["%odd", "«%odd» This is text, with no key and colon before it."],
  ])("%j is one finding in plain words", (text, expected) => {
    expect(problems(text)).toEqual([expected]);
  });

  it("never fails, and keeps its ranges inside the text", () => {
    fc.assert(
      fc.property(fc.oneof(mutated(frontMatterText), fc.string({ unit: "binary" })), (text) => {
        const { tree, problems: found } = readYaml(text, 5);
        const inside = ({ from, to }: { from: number; to: number }) => {
          expect(from, JSON.stringify(text)).toBeGreaterThanOrEqual(5);
          expect(to, JSON.stringify(text)).toBeGreaterThanOrEqual(from);
          expect(to, JSON.stringify(text)).toBeLessThanOrEqual(5 + text.length);
        };
        for (const { range } of found) inside(range);
        if (tree) everyNode(tree, ({ range }) => inside(range));
      }),
      { numRuns: 500 },
    );
  });

  it("does not read beyond a quarter of a megabyte", () => {
    const start = performance.now();
    expect(problems("a: b\n".repeat(2_000_000)).length).toBe(1);
    expect(performance.now() - start).toBeLessThan(1000);
  });
});
