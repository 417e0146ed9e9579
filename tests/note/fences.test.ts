// The fast scan, the incremental CommonMark parser and remark must see the same fenced blocks at the same
// places. remark (micromark) is the outside check: it passes the CommonMark specification's own tests.
import fc from "fast-check";
import type { Code, Root } from "mdast";
import remarkParse from "remark-parse";
import { unified } from "unified";
import { describe, expect, test } from "vitest";
import { parseFences, scanFences } from "../../server/src/note/fences.ts";
import { indexLines, lineAt } from "../../server/src/text/line-index.ts";

interface Seen {
  readonly from: number;
  readonly info: string;
  readonly content: string;
}

function byRemark(text: string): Seen[] {
  const root: Root = unified().use(remarkParse).parse(text);
  const seen: Seen[] = [];
  const visit = (node: { type: string; children?: unknown[] } & Record<string, unknown>): void => {
    if (node.type === "code") {
      const code = node as unknown as Code;
      const from = code.position?.start.offset ?? 0;
      const opensFence = /^(`{3,}|~{3,})/.test(text.slice(from));
      if (opensFence) {
        const info = [code.lang, code.meta].filter(Boolean).join(" ");
        seen.push({ from, info: info.replace(/\s+/g, " "), content: code.value });
      }
    }
    for (const child of (node.children ?? []) as (typeof node)[]) visit(child);
  };
  visit(root as never);
  return seen;
}

function ours(text: string, how: typeof parseFences | typeof scanFences): Seen[] | undefined {
  const index = indexLines(text);
  return how(text, index, 0)?.map((fence) => ({
    from: fence.from,
    info: text.slice(fence.infoFrom, fence.infoTo).replace(/\s+/g, " "),
    content: fence.lines.map((line) => text.slice(line.from, line.to)).join("\n"),
  }));
}

/** remark drops a fence's own indentation inside lists; blanks at line starts are left to the line reader. */
const loosely = (seen: readonly Seen[]): Seen[] =>
  seen.map((one) => ({
    ...one,
    content: one.content
      .replace(/\r\n?/g, "\n")
      .replace(/^[ \t]+/gm, "")
      .replace(/[ \t]+$/gm, "")
      .trimEnd(),
  }));

const line = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom("```readings", "```", "~~~", "~~~~ steps", "```` limits x", "``` a`b"),
  },
  {
    weight: 6,
    arbitrary: fc.constantFrom(
      "test pressure: 0.8 psi",
      "plain words",
      "",
      "  ",
      "# Heading",
      "---",
      "| a | b |",
    ),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom(
      "- item",
      "  more",
      "> quote",
      "> ```readings",
      "> ```",
      "- ```steps",
      "  ```",
      "   ```",
      "    ```",
    ),
  },
  { weight: 2, arbitrary: fc.constantFrom("1. one", "   ~~~", "\t```", "    code", "* * *", "=====") },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      "<!-- accept unit/mismatch: why -->",
      "<!--",
      "-->",
      "<div>",
      "</div>",
      "<pre>",
      "  <b>x",
    ),
  },
);
const text = fc
  .tuple(fc.array(line, { maxLength: 14 }), fc.constantFrom("\n", "\r\n"))
  .map(([lines, ending]) => lines.join(ending));

describe("fenced blocks", () => {
  test("the fast scan agrees with the full parser wherever it answers", () => {
    fc.assert(
      fc.property(text, (source) => {
        const fast = ours(source, scanFences);
        if (fast) expect(loosely(fast)).toEqual(loosely(ours(source, parseFences) ?? []));
      }),
      { numRuns: 5000 },
    );
  });

  test("both agree with remark", () => {
    fc.assert(
      fc.property(text, (source) => {
        const expected = loosely(byRemark(source));
        expect(loosely(ours(source, parseFences) ?? [])).toEqual(expected);
      }),
      { numRuns: 1500 },
    );
  });

  test("a usual note takes the fast way", () => {
    const note =
      "# Job\n\nWords.\n\n```readings\nflow: 0.4 L/min\n```\n\n- a list\n- of two\n\n| a | b |\n|---|---|\n";
    expect(ours(note, scanFences)).toHaveLength(1);
  });

  test("line numbers and offsets of contents point into the text", () => {
    const note = "x\r\n> ```readings\r\n> flow: 0.4 L/min\r\n> ```\r\n";
    const index = indexLines(note);
    const [fence] = parseFences(note, index, 0);
    expect(fence?.lines).toHaveLength(1);
    const content = fence?.lines[0];
    expect(note.slice(content?.from, content?.to)).toBe("flow: 0.4 L/min");
    expect(content?.line).toBe(lineAt(index, content?.from ?? 0));
  });

  test("a fence that is never closed runs to the end", () => {
    const [fence] =
      scanFences("```readings\na: 1 A\nb: 2 A\n", indexLines("```readings\na: 1 A\nb: 2 A\n"), 0) ?? [];
    expect(fence?.closed).toBe(false);
    expect(fence?.lines).toHaveLength(2);
  });
});
