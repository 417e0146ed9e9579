import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { injectionGrammar } from "../../grammar/highlighting.ts";
import { markdownGrammar, pictureOf, scopesByLine } from "./scopes.ts";

const folder = import.meta.dirname;
const root = join(folder, "../..");
const notes = join(root, "tests/data/grammar");
let grammar: Awaited<ReturnType<typeof markdownGrammar>>;

beforeAll(async () => {
  grammar = await markdownGrammar();
});

describe("the highlighting grammar", () => {
  it("is written down as the declared line language makes it (else: node grammar/build-highlighting.mjs)", () => {
    const written = readFileSync(join(root, "grammar/witness-mark.injection.tmLanguage.json"), "utf8");
    expect(JSON.parse(written)).toEqual(JSON.parse(JSON.stringify(injectionGrammar)));
  });

  for (const file of readdirSync(notes).sort()) {
    it(`colours ${file} as pictured`, async () => {
      const text = readFileSync(join(notes, file), "utf8");
      await expect(pictureOf(grammar, text)).toMatchFileSnapshot(
        join(folder, "snapshots", file.replace(/\.md$/, ".txt")),
      );
    });
  }

  it("colours nothing outside our blocks", () => {
    const text = readFileSync(join(notes, "every-block.md"), "utf8");
    for (const { line, pieces } of scopesByLine(grammar, text)) {
      if (!/prose|const readings|^job:/.test(line)) continue;
      for (const piece of pieces) expect(piece.scopes.join(" ")).not.toContain("witness-mark");
    }
  });

  it("ends with the fence, whatever is half typed inside it", () => {
    const text = readFileSync(join(notes, "half-typed.md"), "utf8");
    const closed = text.replace(/```readings\nnever[\s\S]*$/, "Prose 3 A.\n");
    const last = scopesByLine(grammar, closed).find(({ line }) => line === "Prose 3 A.");
    expect(last?.pieces.flatMap((piece) => piece.scopes).join(" ")).not.toContain("witness-mark");
  });

  it("gives the embedded text a language of its own, for comments and brackets", () => {
    const lines = scopesByLine(grammar, "```readings\nflow: 0.42 L/min\n```");
    expect(lines[1]?.pieces.every((piece) => piece.scopes.includes("meta.embedded.block.witness-mark"))).toBe(
      true,
    );
  });
});
