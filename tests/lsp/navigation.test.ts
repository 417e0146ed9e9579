import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { SHOP_TEXT } from "../ide/note-at.ts";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const NOTE = `---
job: 2031-0042
procedure: general
subject: invented lamp
photos: [seam.png, more/second photo.png]
status: open
---

# An invented job

## Test

\`\`\`readings
test pressure: 0.80 psi via P1
lens area: 310 cm2
lens force [N] = test pressure * lens area   # 🔧 on the lens
leak size [mm] = orifice size(0.42 L/min, test pressure)
\`\`\`

See [the other note](other.md), <https://example.invalid/a> and [below](#work).

## Work

\`\`\`series decay
from: logs/decay.csv
t [s], p [inH2O]
\`\`\`

\`\`\`limits
lens force <= 200 N # accept limit/exceeded: agreed
\`\`\`

\`\`\`steps
08:40  locate [lower seam]: found
\`\`\`
`.replaceAll("\n", "\r\n");

let bundles: string;
let folder: string;
let uri: string;
let editor: Editor;

beforeAll(async () => {
  bundles = await buildBundles();
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  mkdirSync(join(folder, ".git"));
  writeFileSync(join(folder, "shop.yaml"), SHOP_TEXT);
  uri = pathToFileURL(join(folder, "note.md")).href;
  editor = await Editor.start({ folder: bundles });
});
afterAll(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  rmSync(folder, { recursive: true });
  removeBundles(bundles);
});
beforeEach(async () => {
  await editor.open(uri, NOTE);
});

const at = (part: string, after = 1): { textDocument: { uri: string }; position: lsp.Position } => ({
  textDocument: { uri },
  position: editor.positionOf(uri, part, after),
});
const ask = <R>(method: string, params: object): Promise<R> => editor.connection.sendRequest(method, params);
const textIn = (range: lsp.Range): string =>
  TextDocument.create(uri, "markdown", 1, editor.text(uri)).getText(range);

describe("from name to name", () => {
  it("goes to the definition of a reading, and of an instrument in the shop file", async () => {
    const [reading] = await ask<lsp.Location[]>("textDocument/definition", at("* lens area", 4));
    expect(reading?.uri).toBe(uri);
    expect(reading?.range.start).toEqual(editor.positionOf(uri, "lens area: 310"));
    const [instrument] = await ask<lsp.Location[]>("textDocument/definition", at("via P1", 5));
    expect(instrument?.uri).toBe(pathToFileURL(join(folder, "shop.yaml")).href);
    expect(SHOP_TEXT.split("\n")[instrument?.range.start.line ?? 0]).toContain("P1");
  });

  it("says which name it was, to an editor that wants to know", async () => {
    const links = await Editor.start({
      folder: bundles,
      capabilities: { textDocument: { definition: { linkSupport: true } } },
    });
    await links.open(uri, NOTE);
    const found: lsp.LocationLink[] = await links.connection.sendRequest(
      "textDocument/definition",
      at("* lens area", 4),
    );
    expect(found.map(({ originSelectionRange: range }) => range && textIn(range))).toEqual(["lens area"]);
    expect(await links.stop()).toBe(0);
  });

  it("finds and marks every mention", async () => {
    const context = { includeDeclaration: true };
    const found = await ask<lsp.Location[]>("textDocument/references", { ...at("test pressure:"), context });
    expect(found.map(({ range }) => textIn(range))).toEqual(Array(3).fill("test pressure"));
    const marked = await ask<lsp.DocumentHighlight[]>("textDocument/documentHighlight", at("test pressure:"));
    // `Write` and `Read` of the protocol.
    expect(marked.map(({ kind }) => kind)).toEqual([3, 2, 2]);
  });

  it("renames everywhere, and says why it will not", async () => {
    const prepared = await ask<{ placeholder: string }>("textDocument/prepareRename", at("lens area:"));
    expect(prepared.placeholder).toBe("lens area");
    expect(await ask("textDocument/prepareRename", at("An invented"))).toBeNull();
    const params = at("lens area:");
    const edit = await ask<lsp.WorkspaceEdit>("textDocument/rename", { ...params, newName: "window" });
    editor.apply(edit);
    expect(editor.text(uri)).toBe(NOTE.replaceAll("lens area", "window"));
    const refused = ask("textDocument/rename", { ...params, newName: "test pressure" });
    await expect(refused).rejects.toMatchObject({ message: expect.stringContaining("already") });
  });

  it("shows the signature of the function that is being called", async () => {
    const help = await ask<lsp.SignatureHelp>("textDocument/signatureHelp", at("L/min, test", 7));
    expect(help.signatures[0]?.label).toMatch(/^orifice size\(/);
    expect(help.activeParameter).toBe(1);
    expect(await ask("textDocument/signatureHelp", at("An invented"))).toBeNull();
  });
});

describe("all the notes of a folder", () => {
  it("are searched for jobs and readings; an open note counts as it stands", async () => {
    mkdirSync(join(folder, "more"), { recursive: true });
    const other = join(folder, "more", "other.md");
    writeFileSync(other, NOTE.replace("2031-0042", "2031-0043").replace("lens area", "window area"));
    writeFileSync(join(folder, "README.md"), "# No note\n");
    const watching = await Editor.start({ folder: bundles, folders: [pathToFileURL(folder).href] });
    const find = async (query: string): Promise<string[]> => {
      const found: lsp.SymbolInformation[] = await watching.connection.sendRequest("workspace/symbol", {
        query,
      });
      return found.map(({ name, containerName: job = "" }) => `${name} (${job})`);
    };
    await watching.open(uri, NOTE.replace("lens force [N]", "push [N]"));
    expect(await find("2031")).toEqual(["2031-0043 invented lamp ()", "2031-0042 invented lamp ()"]);
    expect(await find("wdw area")).toEqual(["window area (2031-0043 invented lamp)"]);
    expect(await find("push")).toEqual(["push (2031-0042 invented lamp)"]);
    writeFileSync(other, NOTE.replace("2031-0042", "2031-0044").replace("lens area", "side window"));
    expect(await find("window")).toEqual(["side window (2031-0044 invented lamp)"]);
    rmSync(join(folder, "more"), { recursive: true });
    expect(await find("window")).toEqual([]);
    expect(await watching.stop()).toBe(0);
  });
});

describe("the shape of a note", () => {
  it("is an outline of headings, blocks and what they hold, each inside its parent", async () => {
    const symbols = await ask<lsp.DocumentSymbol[]>("textDocument/documentSymbol", at("job"));
    const names = (list: readonly lsp.DocumentSymbol[], depth = 0): string[] =>
      list.flatMap((s) => [
        `${"  ".repeat(depth)}${s.name}${s.detail ? `: ${s.detail}` : ""}`,
        ...names(s.children ?? [], depth + 1),
      ]);
    expect(names(symbols)).toEqual([
      "An invented job",
      "  Test",
      "    readings",
      expect.stringMatching(/^ {6}test pressure: 0\.8/),
      expect.stringMatching(/^ {6}lens area: 310/),
      expect.stringMatching(/^ {6}lens force: 171/),
      expect.stringMatching(/^ {6}leak size: .* mm/),
      "  Work",
      "    series decay",
      "      t: s",
      "      p: inH2O",
      "    limits",
      "      lens force <= 200 N",
      "    steps",
      "      locate [lower seam]: 08:40",
    ]);
    const inside = (outer: lsp.Range, inner: lsp.Range): boolean =>
      upTo(outer.start, inner.start) && upTo(inner.end, outer.end);
    const upTo = (a: lsp.Position, b: lsp.Position): boolean =>
      a.line < b.line || (a.line === b.line && a.character <= b.character);
    const check = (list: readonly lsp.DocumentSymbol[]): void => {
      for (const { range, selectionRange, children = [] } of list) {
        expect(inside(range, selectionRange)).toBe(true);
        for (const child of children) expect(inside(range, child.range)).toBe(true);
        check(children);
      }
    };
    check(symbols);
  });

  it("folds at the front matter, headings and blocks", async () => {
    const folds = await ask<lsp.FoldingRange[]>("textDocument/foldingRange", at("job"));
    const lines = NOTE.split("\r\n");
    expect(folds.map(({ startLine, endLine }) => [lines[startLine], lines[endLine]])).toEqual([
      ["---", "---"],
      ["# An invented job", "```"],
      ["## Test", expect.stringContaining("See [the other")],
      ["```readings", "```"],
      ["## Work", "```"],
      ["```series decay", "```"],
      ["```limits", "```"],
      ["```steps", "```"],
    ]);
  });

  it("lets a selection grow from the name to the formula, the line, the block and the section", async () => {
    const { textDocument, position } = at("* lens area", 4);
    const [first] = await ask<lsp.SelectionRange[]>("textDocument/selectionRange", {
      textDocument,
      positions: [position],
    });
    const texts: string[] = [];
    for (let range = first; range; range = range.parent) texts.push(textIn(range.range));
    expect(texts.slice(0, 3)).toEqual([
      "lens area",
      "test pressure * lens area",
      "lens force [N] = test pressure * lens area   # 🔧 on the lens",
    ]);
    expect(texts.at(3)).toMatch(/^test pressure: [\s\S]*test pressure\)$/);
    expect(texts.at(4)).toMatch(/^```readings[\s\S]*```$/);
    expect(texts.at(5)).toMatch(/^## Test/);
    expect(texts.at(-1)).toBe(NOTE);
  });

  it("is coloured by what each word means", async () => {
    const legend = editor.initialized.capabilities.semanticTokensProvider?.legend;
    const decode = ({ data }: lsp.SemanticTokens): string[] => {
      const lines = NOTE.split("\r\n");
      const told: string[] = [];
      let line = 0;
      let character = 0;
      for (let i = 0; i < data.length; i += 5) {
        const [down = 0, along = 0, length = 0, type = 0, modifiers = 0] = data.slice(i, i + 5);
        line += down;
        character = down === 0 ? character + along : along;
        const marks = legend?.tokenModifiers.filter((_, bit) => modifiers & (1 << bit)).join(" ");
        const word = lines[line]?.slice(character, character + length);
        told.push(`${word}: ${legend?.tokenTypes[type]} ${marks}`.trim());
      }
      return told;
    };
    const tokens = decode(await ask("textDocument/semanticTokens/full", at("job")));
    expect(tokens).toEqual(
      expect.arrayContaining([
        "test pressure: variable declaration",
        "0.80: number",
        "psi: type",
        "P1: class",
        "lens force: variable declaration readonly",
        "lens force: variable readonly",
        "# 🔧 on the lens: comment",
        "orifice size: function",
        "p: property declaration",
        "locate: event",
        "lower seam: namespace",
        "found: enumMember",
      ]),
    );
    const range = { start: at("limits").position, end: at("200 N").position };
    const some = decode(await ask("textDocument/semanticTokens/range", { ...at("job"), range }));
    expect(some[0]).toBe("lens force: variable readonly");
    expect(some.length).toBeLessThan(tokens.length);
  });

  it("links to photos, logs, other notes, addresses and the pages of accepted rules", async () => {
    const links = await ask<lsp.DocumentLink[]>("textDocument/documentLink", at("job"));
    const beside = (path: string): string => pathToFileURL(join(folder, path)).href;
    expect(links.map(({ range, target }) => [textIn(range), target])).toEqual([
      ["seam.png", beside("seam.png")],
      ["more/second photo.png", beside("more/second photo.png")],
      ["other.md", beside("other.md")],
      ["logs/decay.csv", beside("logs/decay.csv")],
      ["limit/exceeded", expect.stringMatching(/^file:.*\/limit-exceeded\.md$/)],
    ]);
  });
});
