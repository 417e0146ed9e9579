// From `didOpen` on a text is what the client says it is, not what lies on the disk (LSP 3.17, didOpen; from memory).
// So a shop file that is open and not saved counts for the notes under it.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor, messageOf } from "./editor.ts";

const NOTE = "---\njob: test\n---\n\n```readings\nsupply current: 9.1 A via C1\n```\n";
const shop = (id: string): string =>
  `instruments:\n  ${id}:\n    description: clamp\n    measures: current\n    range: 0 to 60 A\n    accuracy: 2 % of reading\n`;

let bundles: string;
let folder: string;
let editor: Editor;

const uriOf = (...path: string[]): string => pathToFileURL(join(folder, ...path)).href;
const rules = (found: readonly lsp.Diagnostic[]): unknown[] => found.map(({ code }) => code);

/** What was published last for a text, once it is so. */
async function until(uri: string, holds: (found: readonly lsp.Diagnostic[]) => boolean): Promise<void> {
  while (!holds(editor.published(uri).at(-1)?.diagnostics ?? [])) await editor.nextPublish();
}
const unknown = (found: readonly lsp.Diagnostic[]): boolean => rules(found).includes("instrument/unknown");
const known = (found: readonly lsp.Diagnostic[]): boolean => !unknown(found);

beforeAll(async () => {
  bundles = await buildBundles();
}, 60_000);
afterAll(() => removeBundles(bundles));
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  mkdirSync(join(folder, ".git"));
  mkdirSync(join(folder, "jobs"));
  const capabilities = { textDocument: { synchronization: { dynamicRegistration: true } } };
  editor = await Editor.start({ folder: bundles, capabilities });
});
afterEach(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  rmSync(folder, { recursive: true });
});

it("asks to be told of shop files, and of nothing but their text", async () => {
  await editor.open(uriOf("note.md"), NOTE);
  const selector = [{ pattern: "**/shop.yaml" }];
  const asked = editor.registrations.map(({ method, registerOptions }) => [method, registerOptions]);
  expect(asked).toEqual([
    ["textDocument/didOpen", { documentSelector: selector }],
    ["textDocument/didChange", { documentSelector: selector, syncKind: 2 }],
    ["textDocument/didClose", { documentSelector: selector }],
  ]);
});

it("checks the open notes against the unsaved text, at each change, and against the disk after closing", async () => {
  const file = uriOf("shop.yaml");
  const note = uriOf("jobs", "note.md");
  writeFileSync(join(folder, "shop.yaml"), shop("V1"));
  expect(rules(await editor.open(note, NOTE))).toContain("instrument/unknown");

  void editor.open(file, shop("V1"), "yaml");
  editor.replace(file, "V1", "C1");
  await until(note, known);
  // The uncertainty is the unsaved accuracy: 2 % of 9.1 A as a limit, rectangular, k = 2 (JCGM 100:2008, 4.3.7).
  const ask = () => editor.hover(note, editor.positionOf(note, "supply current"));
  const shown = (2 * 0.02 * 9.1) / Math.sqrt(3);
  expect(JSON.stringify(await ask())).toContain(`± ${shown.toPrecision(2)} A`);
  editor.replace(file, "2 % of reading", "4 % of reading");
  const before = editor.published(note).length;
  while (editor.published(note).length === before) await editor.nextPublish();
  expect(JSON.stringify(await ask())).toContain(`± ${(2 * shown).toFixed(1)} A`);

  editor.replace(file, "C1", "C2");
  await until(note, unknown);
  editor.replace(file, "C2", "C1");
  await until(note, known);
  editor.close(file);
  await until(note, unknown);
});

it("takes a shop file that is not on the disk yet, and shows its own findings while it is typed", async () => {
  const file = uriOf("shop.yaml");
  const note = uriOf("jobs", "note.md");
  expect(rules(await editor.open(note, NOTE))).not.toContain("instrument/unknown");
  void editor.open(file, `altitude: 120 bananas\n${shop("V1")}`, "yaml");
  await until(note, unknown);
  await until(file, (found) => found.some((one) => messageOf(one).includes("bananas")));
  editor.replace(file, "bananas", "m");
  await until(file, (found) => found.length === 0);
  editor.close(file);
  await until(note, known);
});

it("waits for a pause in the typing before it checks the notes again", async () => {
  const file = uriOf("shop.yaml");
  const note = uriOf("jobs", "note.md");
  await editor.open(note, NOTE);
  void editor.open(file, shop("V1"), "yaml");
  await until(note, unknown);
  const before = editor.published(note).length;
  for (let i = 0; i < 40; i++) editor.replace(file, "clamp", "clamps".slice(0, 5 + (i % 2)));
  editor.replace(file, "V1", "C1");
  await until(note, known);
  // One for forty changes; a second is allowed for a machine that is held up.
  expect(editor.published(note).length - before).toBeLessThanOrEqual(2);
});

it("goes to the place of an instrument in the unsaved text", async () => {
  const file = uriOf("shop.yaml");
  const note = uriOf("jobs", "note.md");
  writeFileSync(join(folder, "shop.yaml"), shop("C1"));
  await editor.open(note, NOTE);
  void editor.open(file, `# a line more\n\n${shop("C1")}`, "yaml");
  const before = editor.published(note).length;
  while (editor.published(note).length === before) await editor.nextPublish();
  const params = { textDocument: { uri: note }, position: editor.positionOf(note, "C1") };
  const [place] = await editor.connection.sendRequest<lsp.Location[]>("textDocument/definition", params);
  expect(place).toMatchObject({ uri: file, range: { start: { line: 3, character: 2 } } });
});
