import { afterAll, beforeAll, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const NOTE =
  "---\njob: 1\nprocedure: general\nstatus: open\n---\n\nSome   prose\n\n```readings\na:1 A   # x\nb  =  2*a\n```\n";
const uri = "untitled:note";
const options = { tabSize: 4, insertSpaces: true };

let bundles: string;
let editor: Editor;
beforeAll(async () => {
  bundles = await buildBundles();
  editor = await Editor.start({ folder: bundles });
});
afterAll(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  removeBundles(bundles);
});

const ask = async (method: string, params: object): Promise<string> => {
  await editor.open(uri, NOTE);
  const edits: lsp.TextEdit[] = await editor.connection.sendRequest(method, {
    textDocument: { uri },
    options,
    ...params,
  });
  return TextDocument.applyEdits(TextDocument.create(uri, "markdown", 1, NOTE), edits);
};
const position = { line: 10, character: 0 };

it("sets the blocks of a note, and leaves its prose", async () => {
  expect(await ask("textDocument/formatting", {})).toBe(
    NOTE.replace("a:1 A   # x", "a: 1 A  # x").replace("b  =  2*a", "b = 2 * a"),
  );
});

it("sets the lines of a range", async () => {
  const range = { start: position, end: { line: 10, character: 3 } };
  expect(await ask("textDocument/rangeFormatting", { range })).toBe(NOTE.replace("b  =  2*a", "b = 2 * a"));
});

it("sets a line when it is left", async () => {
  const left = await ask("textDocument/onTypeFormatting", { position, ch: "\n" });
  expect(left).toBe(NOTE.replace("a:1 A   # x", "a: 1 A  # x"));
});
