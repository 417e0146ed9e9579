// Every example of the format reference. A comment before it says what it gives: `clean`, or the rule of the one
// finding that it causes. An example is one whole note, or all blocks up to the next prose.
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { BLOCK_KINDS, FORMULA_WORDS } from "../../grammar/line-language.ts";
import { findFences } from "../../server/src/note/fences.ts";
import { FRONT_MATTER_KEYS, OUTCOMES, VEHICLE_KEYS } from "../../server/src/note/front-matter-schema.ts";
import { findLinks } from "../../server/src/note/prose-links.ts";
import { rules } from "../../server/src/rules/registry.ts";
import { indexLines, lineAt } from "../../server/src/text/line-index.ts";
import { analyzeText } from "../support/analyze-text.ts";

const url = new URL("../../grammar/FORMAT.md", import.meta.url);
const text = readFileSync(url, "utf8");
const index = indexLines(text);

interface Example {
  readonly line: number;
  readonly gives: string;
  readonly note: string;
}

const MARK = /^<!-- example: (\S+) -->$/gm;
const fences = findFences(text, index, 0);

function examples(): Example[] {
  return [...text.matchAll(MARK)].map((match) => {
    const from = match.index + match[0].length;
    const line = lineAt(index, match.index) + 1;
    const parts: string[] = [];
    let at = from;
    for (const fence of fences.filter((one) => one.from >= from)) {
      const between = text.slice(at, fence.from);
      if (between.replace(/<!-- accept[\s\S]*?-->/g, "").trim() !== "") break;
      parts.push(between, text.slice(fence.from, fence.to));
      at = fence.to;
      if (text.slice(fence.infoFrom, fence.infoTo) === "markdown") {
        const inside = fence.lines.map((one) => text.slice(one.from, one.to)).join("\n");
        return { line, gives: match[1] ?? "", note: inside };
      }
    }
    return { line, gives: match[1] ?? "", note: `---\njob: example\n---\n${parts.join("")}\n` };
  });
}

describe("the examples of the format reference", () => {
  test.each(examples().map((example) => [example.line, example.gives, example] as const))(
    "line %i: %s",
    (_, gives, { note }) => {
      expect(note).toContain("```");
      const said = analyzeText(note)
        .findings.filter((finding) => finding.severity !== "info")
        .map((finding) => ({ rule: finding.rule, message: finding.message }));
      if (gives === "clean") {
        expect(said).toEqual([]);
      } else {
        expect(rules.map((rule) => rule.id)).toContain(gives);
        expect(said.map((one) => one.rule)).toEqual([gives]);
      }
    },
  );

  test("stand for every kind of block, and none is left unmarked", () => {
    const kinds = fences.map((fence) => text.slice(fence.infoFrom, fence.infoTo).split(" ")[0]);
    for (const kind of BLOCK_KINDS) expect(kinds).toContain(kind);
    const marked = examples().reduce((sum, { note }) => sum + (note.match(/^```\w/gm)?.length ?? 0), 0);
    const whole = fences.filter((fence) => text.slice(fence.infoFrom, fence.infoTo) === "markdown");
    const inWhole = whole.reduce(
      (sum, fence) => sum + (text.slice(fence.from, fence.to).match(/^```\w/gm)?.length ?? 0),
      0,
    );
    expect(marked).toBe(fences.length - whole.length + inWhole);
  });
});

describe("the format reference", () => {
  test("names every key of the front matter, every outcome and every reserved word", () => {
    for (const word of [...FRONT_MATTER_KEYS, ...VEHICLE_KEYS, ...OUTCOMES, ...FORMULA_WORDS]) {
      expect(text).toContain(`\`${word}\``);
    }
  });

  test("links to what is there", () => {
    const anchors = [...text.matchAll(/^#+ (.*)$/gm)].map(
      (match) => `#${(match[1] ?? "").toLowerCase().replaceAll(" ", "-")}`,
    );
    for (const link of findLinks(text, 0, fences)) {
      if (link.target.startsWith("#")) expect(anchors).toContain(link.target);
      else expect(existsSync(fileURLToPath(new URL(link.target, url))), link.target).toBe(true);
    }
  });

  test("is read in ten minutes", () => {
    // 200 to 250 words a minute is common for reading technical prose (common knowledge, no source).
    const prose = fences.reduceRight((t, fence) => t.slice(0, fence.from) + t.slice(fence.to), text);
    expect(prose.split(/\s+/).length).toBeLessThan(2300);
  });
});
