import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const NOTE = `---
job: 1
procedure: general
photos: [seam.png, 'old place/lamp.png']
status: open
---

See ![the seam](seam.png "title") and [the first job](old%20place/first.md#work) or <https://example.invalid/seam.png>.

\`\`\`series decay
from: logs/decay.csv
\`\`\`
`;

let bundles: string;
let folder: string;
let editor: Editor;
const at = (path: string): string => pathToFileURL(join(folder, path)).href;

beforeAll(async () => {
  bundles = await buildBundles();
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  mkdirSync(join(folder, ".git"));
  writeFileSync(join(folder, "note.md"), NOTE);
  editor = await Editor.start({ folder: bundles, folders: [pathToFileURL(folder).href] });
});
afterAll(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  rmSync(folder, { recursive: true });
  removeBundles(bundles);
});

async function moved(oldPath: string, newPath: string): Promise<string | undefined> {
  const files = [{ oldUri: at(oldPath), newUri: at(newPath) }];
  const edit: lsp.WorkspaceEdit | null = await editor.connection.sendRequest("workspace/willRenameFiles", {
    files,
  });
  const [change] = edit?.documentChanges ?? [];
  if (!change || !("edits" in change)) return undefined;
  expect(change.textDocument.uri).toBe(at("note.md"));
  const edits = change.edits.flatMap((one) => ("newText" in one ? [one] : []));
  return TextDocument.applyEdits(TextDocument.create("", "markdown", 1, NOTE), edits);
}

it("says that it wants to be asked", () => {
  expect(editor.initialized.capabilities.workspace?.fileOperations?.willRename).toBeDefined();
});

it("lets links, photos and logs follow a file, and leaves the rest", async () => {
  expect(await moved("seam.png", "photos/seam, left.png")).toBe(
    NOTE.replace("[seam.png,", '["photos/seam, left.png",').replace(
      "(seam.png ",
      "(photos/seam%2C%20left.png ",
    ),
  );
  expect(await moved("logs/decay.csv", "decay 2.csv")).toBe(NOTE.replace("logs/decay.csv", "decay 2.csv"));
  expect(await moved("nothing.png", "other.png")).toBeUndefined();
});

it("lets them follow a folder", async () => {
  expect(await moved("old place", "new")).toBe(
    NOTE.replace("'old place/lamp.png'", "'new/lamp.png'").replace(
      "old%20place/first.md#work",
      "new/first.md#work",
    ),
  );
});

it("keeps them true when the note itself moves, also an open one", async () => {
  const expected = NOTE.replace("[seam.png,", "[../seam.png,")
    .replace("'old place", "'../old place")
    .replace("(seam.png", "(../seam.png")
    .replace("old%20place", "../old%20place")
    .replace("logs/", "../logs/");
  expect(await moved("note.md", "done/note.md")).toBe(expected);
  await editor.open(at("note.md"), NOTE);
  expect(await moved("note.md", "done/note.md")).toBe(expected);
  expect(await moved("note.md", "renamed.md")).toBeUndefined();
});
