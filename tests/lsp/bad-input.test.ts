import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor, messageOf } from "./editor.ts";

const FRONT = "---\njob: 2031-0042\nprocedure: lamp-moisture\nstatus: open\n---\n\n";
const fence = (kind: string, body: string): string => `\`\`\`${kind}\n${body}\n\`\`\`\n`;

/** Bytes of every kind, decoded as an editor decodes a file that is no text. */
function junk(length: number): string {
  const bytes = new Uint8Array(length);
  let seed = 42;
  for (let i = 0; i < length; i++) {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    bytes[i] = (seed >> 8) & 255;
  }
  return new TextDecoder().decode(bytes);
}

/** What the text is, and the rule of the findings that it must bring at least; undefined: it is left alone. */
const CASES: Readonly<Record<string, { text: string; rule?: string }>> = {
  "an empty file": { text: "" },
  "a byte order mark alone": { text: "\uFEFF" },
  "binary junk": { text: junk(200_000) },
  "binary junk behind front matter": { text: FRONT + junk(200_000) },
  "binary junk inside a block": {
    text: FRONT + fence("readings", junk(20_000).replaceAll("`", "")),
    rule: "note/syntax",
  },
  "null characters": { text: `${FRONT}${"\0".repeat(10_000)}` },
  "lone surrogates": {
    text: FRONT + fence("readings", "a\uD83D: 1 \uDE00 A\nb = a\uD83D * 2"),
    rule: "note/syntax",
  },
  "a thousand nested brackets": {
    text: FRONT + fence("readings", `a = ${"(".repeat(1000)}1${")".repeat(1000)}`),
    rule: "note/syntax",
  },
  "a thousand nested calls, quotes and lists": {
    text: `${FRONT}${fence("readings", `a = ${"mean(".repeat(1000)}`)}${">".repeat(1000)} x\n${"- ".repeat(1000)}x\n`,
    rule: "note/syntax",
  },
  "YAML that is broken": { text: "---\njob: [2031\n  - : {\n---\n\n", rule: "note/front-matter" },
  "front matter that never ends": { text: "---\njob: 2031-0042\nprocedure: lamp-moisture\n" },
  "a fence that is never closed": {
    text: `${FRONT}\`\`\`readings\nflow: 0,42 L/min\n`,
    rule: "unit/decimal-comma",
  },
  "one line of a million characters": { text: FRONT + fence("readings", `a = ${"1 + ".repeat(250_000)}1`) },
  "a circle through a thousand names": {
    text:
      FRONT +
      fence("readings", Array.from({ length: 1000 }, (_, i) => `n${i} = n${(i + 1) % 1000}`).join("\n")),
    rule: "reading/circular",
  },
  "a chain of five thousand names": {
    text:
      FRONT +
      fence(
        "readings",
        ["n0: 1 A", ...Array.from({ length: 5000 }, (_, i) => `n${i + 1} = n${i} + 1 A`)]
          .reverse()
          .join("\n"),
      ),
  },
};

let bundles: string;
let editor: Editor;
const uri = `file://${mkdtempSync(`${tmpdir()}/witness-mark-`)}/note.md`;

beforeAll(async () => {
  bundles = await buildBundles();
});
afterAll(() => removeBundles(bundles));
beforeEach(async () => {
  editor = await Editor.start({ folder: bundles });
});
afterEach(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
});

/** Asks everything that an editor asks when it shows a text. */
async function lookAround(): Promise<void> {
  await editor.hints(uri);
  const lines = editor.text(uri).split("\n").length;
  for (const line of [0, 1, Math.floor(lines / 2), lines - 1]) {
    await editor.hover(uri, { line, character: 5 });
    await editor.completion(uri, { line, character: 10_000 });
  }
  await editor.actions(uri, { start: { line: 0, character: 0 }, end: { line: lines, character: 0 } });
}

describe("a text that is no proper note", () => {
  for (const [what, { text, rule }] of Object.entries(CASES)) {
    it(`is survived: ${what}`, async () => {
      const found = await editor.open(uri, text);
      if (rule) expect(found.map(({ code }) => code)).toContain(rule);
      await lookAround();
      editor.change(uri, {
        range: { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } },
        text: "x",
      });
      await editor.findings(uri);
      // And the next note is checked as if nothing had been.
      const next = await editor.open(`${uri}2`, FRONT + fence("readings", "flow: 0,42 L/min"));
      expect(next.map(({ code }) => code)).toContain("unit/decimal-comma");
    });
  }

  it("is survived: ten megabytes", async () => {
    const found = await editor.open(uri, FRONT + fence("readings", "flow: 0,42 L/min\n".repeat(620_000)));
    expect(found).toHaveLength(1);
    expect(found.map(messageOf).join()).toContain("too long");
    await lookAround();
    expect(await editor.open(`${uri}2`, "A".repeat(10_000_000))).toEqual([]);
  });
});
