// A unit and a formula of the shop's own, over the protocol.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const SHOP = `units:
  jug: { equals: 2.5 L, says: the clear one }
formulas:
  concentrate for mix:
    says: concentrate for a stronger mix
    takes:
      system volume: { unit: L, says: all of it }
      share now: "%"
      share wanted: { unit: "%", default: 50 %, range: 30 to 70 % }
    formula: system volume * (share wanted - share now) / (100 % - share now)
    unit: jug
    source: volume balance
  wrong: { takes: { x: m }, formula: x + 1 s, unit: m, source: test }
`;
const NOTE = `---
job: test
---

\`\`\`readings
volume: 20 L
share: 40 %
more [jug] = concentrate for mix(volume, share)
bad = wrong(3 m)
\`\`\`
`;

let bundles: string;
let folder: string;
let editor: Editor;
let uri: string;
let shopUri: string;
beforeAll(async () => {
  bundles = await buildBundles();
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  mkdirSync(join(folder, ".git"));
  writeFileSync(join(folder, "shop.yaml"), SHOP);
  uri = pathToFileURL(join(folder, "note.md")).href;
  shopUri = pathToFileURL(join(folder, "shop.yaml")).href;
  editor = await Editor.start({ folder: bundles });
}, 60_000);
afterAll(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  removeBundles(bundles);
  rmSync(folder, { recursive: true });
});

const at = (part: string, after = 0) => ({
  textDocument: { uri },
  position: editor.positionOf(uri, part, after),
});
const labels = async (part: string, after: number): Promise<lsp.CompletionItem[]> => {
  const list: lsp.CompletionList | lsp.CompletionItem[] = await editor.connection.sendRequest(
    "textDocument/completion",
    at(part, after),
  );
  return "items" in list ? list.items : list;
};

it("publishes the mistake in the shop file at its place there, and tells the note whose it is", async () => {
  const found = await editor.open(uri, NOTE);
  expect(found.map(({ code, message }) => [code, String(message)])).toEqual([
    ["reading/undefined", expect.stringContaining("formula `wrong` has a mistake in the shop file")],
  ]);
  const [mistake] = editor.published(shopUri).at(-1)?.diagnostics ?? [];
  const line = SHOP.split("\n").findIndex((text) => text.includes("x + 1 s"));
  const character = SHOP.split("\n")[line]?.indexOf("+") ?? -1;
  expect(mistake).toMatchObject({
    code: "unit/mismatch",
    range: { start: { line, character }, end: { line, character: character + 1 } },
  });
});

it("hovers show the unit, the formula, and the working of a value", async () => {
  const hover = async (part: string, after = 1) =>
    JSON.stringify(await editor.connection.sendRequest("textDocument/hover", at(part, after)));
  expect(await hover("jug]")).toContain("is 2.5 L by the shop file: the clear one");
  const formula = await hover("concentrate for mix(");
  for (const part of ["system volume: all of it", "if left out: 50 %", "30 to 70 %", "volume balance"]) {
    expect(formula).toContain(part);
  }
  // 20 L × 0.1 / 0.6 are 3.33 L, or 1.33 jugs.
  expect(await hover("more [")).toContain("1.3");
});

it("completes the unit where its dimension fits, and the formula with its signature", async () => {
  await editor.open(uri, NOTE.replace("bad = wrong(3 m)", "sum = volume + 3 "));
  const units = await labels("volume + 3 ", 11);
  expect(units[0]).toMatchObject({ label: "jug", detail: "a volume, the shop's own" });
  const resolved: lsp.CompletionItem = await editor.connection.sendRequest(
    "completionItem/resolve",
    units[0],
  );
  expect(JSON.stringify(resolved.documentation)).toContain("2.5 L");

  await editor.open(uri, NOTE.replace("concentrate for mix(volume, share)", "conc"));
  const functions = await labels("= conc", 6);
  expect(functions.find(({ label }) => label === "concentrate for mix")).toMatchObject({
    detail: "concentrate for mix(system volume, share now, [share wanted])",
  });
  expect(functions.map(({ label }) => label)).not.toContain("wrong");
});

it("helps with the signature, leads to the shop file, and converts into the shop's unit", async () => {
  await editor.open(uri, NOTE);
  const help: lsp.SignatureHelp = await editor.connection.sendRequest(
    "textDocument/signatureHelp",
    at("(volume, share", 9),
  );
  expect(help.signatures[0]?.label).toBe("concentrate for mix(system volume, share now, [share wanted])");
  expect(help.signatures[0]?.activeParameter ?? help.activeParameter).toBe(1);
  for (const [part, line] of [
    ["jug]", 1],
    ["concentrate for mix(", 3],
  ] as const) {
    const found: readonly (lsp.Location | lsp.LocationLink)[] = await editor.connection.sendRequest(
      "textDocument/definition",
      at(part, 1),
    );
    const [place] = [found].flat();
    expect(place && "uri" in place ? [place.uri, place.range.start.line] : place).toEqual([shopUri, line]);
  }
  const actions: readonly lsp.CodeAction[] = await editor.connection.sendRequest("textDocument/codeAction", {
    textDocument: { uri },
    range: { start: editor.positionOf(uri, "20 L", 3), end: editor.positionOf(uri, "20 L", 3) },
    context: { diagnostics: [], only: ["refactor.rewrite"] },
  });
  expect(actions.map(({ title }) => title)).toContain("Also show it in jug");
});
