// Texts that no technician means to write. Each is read and analysed without an exception and in bounded time, and
// every range that anybody is shown lies inside the text. The bounds are generous: they catch work that grows faster
// than the text, not a slow computer.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/src/analysis/analysis.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { analyzeText } from "../support/analyze-text.ts";

const HEAD = "---\njob: test\n---\n\n";
const block = (kind: string, lines: string): string => `\`\`\`${kind}\n${lines}\n\`\`\`\n`;

/** Every range that a note and its analysis hand out. */
function rangesOf(analysis: Analysis): readonly { from: number; to: number }[] {
  const { note } = analysis;
  return [
    note.frontMatter.range,
    ...note.blocks.flatMap((one) => [
      one.range,
      one.info,
      ...one.lines.map(({ offset, length }) => ({ from: offset, to: offset + length })),
    ]),
    ...note.links.map((link) => link.range),
    ...note.accepts.map((accept) => accept.range),
    ...analysis.findings.flatMap((finding) => [
      finding.range,
      ...finding.related.map((related) => related.range),
      ...finding.fixes.flatMap((fix) => fix.edits.map((edit) => edit.range)),
    ]),
    ...analysis.values.flatMap((value) => [
      value.nameRange,
      value.lineRange,
      { from: value.hintAt, to: value.hintAt },
    ]),
    ...analysis.nameUses().map((use) => use.range),
    ...analysis.recordResults().map((edit) => edit.range),
  ];
}

function check(text: string): Analysis {
  const analysis = analyzeText(text);
  for (const value of analysis.values.slice(0, 50)) analysis.working(value);
  const outside = rangesOf(analysis).filter(
    ({ from, to }) => !(from >= 0 && from <= to && to <= text.length),
  );
  expect(outside).toEqual([]);
  return analysis;
}

/** Milliseconds of the work, which must stay below the bound. */
function within(bound: number, work: () => void): void {
  const start = performance.now();
  work();
  expect(performance.now() - start).toBeLessThan(bound);
}

describe("texts that hold no note", () => {
  test.each([
    ["nothing", ""],
    ["a byte order mark", "\uFEFF"],
    ["one line break", "\n"],
    ["a NUL", "\0"],
    ["half a surrogate pair", "---\njob: 1\n---\n\uD83D ```readings\n\uDCA7: \uD83D\n```"],
    ["front matter alone", "---\njob: 1\n---"],
    ["an open front matter", "---\njob: 1\n```readings\na: 1\n```\n"],
    ["three dashes", "---"],
    ["an empty front matter", "---\n---\n"],
    ["front matter that is a list", "---\n- job\n---\n"],
    ["an unclosed fence at the end", `${HEAD}\`\`\`readings`],
    ["an unclosed fence with a line", `${HEAD}\`\`\`readings\na: 1 psi`],
    ["a fence in a quote that ends", `${HEAD}> \`\`\`readings\n> a: 1 psi\nb: 2 psi\n`],
    ["an empty block", `${HEAD}\`\`\`readings\n\`\`\`\n`],
    ["blocks without a name", `${HEAD}\`\`\`series\nt [s]\n1\n\`\`\`\n\n\`\`\`limits\n\`\`\`\n`],
  ])("%s", (_, text) => {
    check(text);
  });

  test("binary junk", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 1, maxLength: 4000 }), (bytes) => {
        check(Buffer.from(bytes).toString("latin1"));
        check(HEAD + block("readings", Buffer.from(bytes).toString("utf8")));
      }),
      { numRuns: 200 },
    );
  });

  test.each([
    "job: [1",
    "job: 1\n\tsubject: x",
    "job: 1\njob: 2",
    "job: &a *a",
    "? : :",
    "job: !!js/function x",
    "%YAML 9",
    "job: 'x",
    "vehicle: { year: ",
  ])("front matter with broken YAML: %s", (yaml) => {
    const analysis = check(`---\n${yaml}\n---\n\n${block("readings", "a: 5 psi\nb = a * 2")}`);
    expect(analysis.values.map((value) => value.name)).toEqual(["a", "b"]);
  });
});

describe("line ends", () => {
  const lines = ["---", "job: test", "---", "", "```readings", "a: 5 psi ± 1 psi", "b = a * 2", "```", ""];
  const values = (text: string) => check(text).values.map((value) => `${value.line} ${value.shown?.text}`);
  const expected = values(lines.join("\n"));

  test.each([
    ["CRLF", "\r\n"],
    ["a lone CR", "\r"],
  ])("%s gives the same values on the same lines", (_, end) => {
    expect(values(lines.join(end))).toEqual(expected);
  });

  test("mixed ones do too", () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom("\n", "\r\n", "\r"), { minLength: lines.length, maxLength: lines.length }),
        (ends) => {
          const text = lines.map((line, i) => line + (ends[i] ?? "\n"));
          // An empty line between CR and LF would be one line break, not two.
          fc.pre(!/\r\n\n?$|\r$/.test(text[2] ?? "") || ends[3] !== "\n" || ends[2] === "\r\n");
          expect(values(text.join(""))).toEqual(expected);
        },
      ),
    );
  });

  test("a byte order mark shifts nothing but the first line", () => {
    expect(values(`\uFEFF${lines.join("\r\n")}`)).toEqual(expected);
  });

  test("line separators of Unicode end no line", () => {
    const analysis = check(`${HEAD}${block("readings", "a: words\u2028b: 5 psi\u2029c\u0085d")}`);
    expect(analysis.values.map((value) => value.name)).toEqual(["a"]);
  });
});

describe("deep and long texts", () => {
  test.each([
    ["a thousand brackets", block("readings", `a = ${"(".repeat(1000)}1${")".repeat(1000)}`)],
    ["a thousand calls", block("readings", `a = ${"mean(".repeat(1000)}1${")".repeat(1000)}`)],
    ["a thousand brackets in a limit", block("limits", `${"(".repeat(1000)}a < 1${")".repeat(1000)}`)],
    ["a long sum", block("readings", `a = ${Array.from({ length: 900 }, () => "1").join("+")}`)],
    ["powers of powers", block("readings", `a = ${Array.from({ length: 60 }, () => "9").join("^")}`)],
    ["a unit without end", block("readings", `a: 5 ${"m.".repeat(900)}m`)],
    ["a unit of brackets", block("readings", `a [${"(".repeat(900)}m${")".repeat(900)}]: 5`)],
    ["a number without end", block("readings", `a: ${"9".repeat(1900)} psi ± ${"9".repeat(90)}e999`)],
    ["quotes in quotes", `${"> ".repeat(2000)}\`\`\`readings\n${"> ".repeat(2000)}a: 1\n`],
    ["lists in lists", Array.from({ length: 300 }, (_, i) => `${"  ".repeat(i)}- x`).join("\n")],
    ["brackets of links", `${"[".repeat(20_000)}a](b)`],
    ["open links", "[a](".repeat(10_000)],
    ["pictures in links", `${"![".repeat(5000)}a${"](b)".repeat(5000)}`],
    ["footnotes in footnotes", `${"[^a]:[^a]:".repeat(2000)}x`],
    ["open brackets in links", `${"[a](x(".repeat(5000)}${")".repeat(20)}`],
    ["stars", "*a ".repeat(20_000)],
    ["back ticks", "`a``b```c ".repeat(5000)],
    ["comments", "<!-- accept ".repeat(10_000)],
    ["accepts", "<!-- accept unit/mismatch: why -->\n".repeat(3000)],
    ["open comments and a block", `${"<!--".repeat(5000)}\n\n${block("readings", "a: 1")}`],
    ["a line of a megabyte", block("readings", `a: ${"x".repeat(1_000_000)}`)],
    ["a megabyte of digits", block("readings", `a = ${"1+".repeat(500_000)}1`)],
    ["blanks", block("readings", `a: 5 psi${" ".repeat(100_000)}#`)],
    ["deep YAML", `${"[".repeat(3000)}`],
  ])("%s, within 3 s", (_, text) => {
    within(3000, () => check(HEAD + text));
  });

  test("deep YAML in the front matter, within 3 s", () => {
    within(3000, () => check(`---\njob: 1\nvehicle: ${"[".repeat(3000)}\n---\n`));
    within(3000, () => check(`---\njob: 1\nvehicle: ${"{a: ".repeat(3000)}\n---\n`));
  });

  test("100,000 short lines, within 10 s", () => {
    within(10_000, () =>
      check(HEAD + block("readings", Array.from({ length: 100_000 }, (_, i) => `a${i}: 1`).join("\n"))),
    );
    within(10_000, () => check(HEAD + "x\n".repeat(100_000)));
    within(10_000, () => check(HEAD + block("readings", "?\n".repeat(100_000))));
  }, 40_000);

  test("a series of 100,000 rows, within 10 s", () => {
    const rows = Array.from({ length: 100_000 }, (_, i) => `${i}, ${(i % 7) / 10}`).join("\n");
    within(10_000, () => {
      const analysis = check(
        HEAD + block("series log", `t [s], p [psi]\n${rows}`) + block("readings", "m = mean(log p)"),
      );
      expect(analysis.findings).toEqual([]);
    });
  }, 20_000);

  test("a note of 10 MB, within 40 s", () => {
    const part = `words of a technician, [a photo](a.png)\n\n${block("readings x", "a: 1.5 psi\nb = a * 2 + nothing")}`;
    within(40_000, () => check(HEAD + part.repeat(Math.ceil(10_000_000 / part.length))));
  }, 60_000);

  test("10 MB on one line, within 10 s", () => {
    within(10_000, () => check(HEAD + "a".repeat(10_000_000)));
    within(10_000, () => check(HEAD + block("readings", "a".repeat(10_000_000))));
  }, 40_000);
});

describe("any text at all", () => {
  const pieces = fc.constantFrom(
    ..."-`~:=[](){}<>!#|*+/^≈±%\"'.,;\\\r\n\t 0123456789abétT\uFEFF\u00a0\u2028💧".split(""),
    "\uD83D",
    "```readings\n",
    "```steps\n",
    "```limits\n",
    "```series x\n",
    "\n```\n",
    "---\njob: 1\n---\n",
    "> ",
    "- ",
    "    ",
    "<!-- accept ",
    " -->",
    "a: 5 psi\n",
    "b = a * 2\n",
    "t [s], p [psi]\n1, 2\n",
    "09:10 retest [x]: fail\n",
    "2031-03-04\n",
    "a <= 1 psi (acceptance) source: x\n",
  );
  const wild = fc.array(pieces, { maxLength: 60 }).map((all) => all.join(""));

  test("is read and analysed without an exception, all ranges inside it", () => {
    fc.assert(
      fc.property(fc.oneof(wild, fc.string({ unit: "binary", maxLength: 200 })), (text) => {
        check(text);
        check(HEAD + text);
      }),
      { numRuns: 3000 },
    );
  }, 60_000);

  test("gives the same note every time", () => {
    fc.assert(
      fc.property(wild, (text) => {
        expect(readNote(text, readYaml)).toEqual(readNote(text, readYaml));
      }),
      { numRuns: 300 },
    );
  });
});
