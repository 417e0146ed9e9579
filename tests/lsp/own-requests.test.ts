import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Look, OfferedProcedure } from "../../server/src/lsp/own-messages.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const NOTE = `---
job: 2031-0042
subject: bench supply
procedure: general
status: open
---

\`\`\`readings
supply current: 9,1 A
room humidity: 140 %     # accept reading/implausible: bench test
leads: 2 m
lead resistance [ohm] = 0.04 ohm/m * leads
\`\`\`

\`\`\`steps
09:10  assess: found
--:--  function check
\`\`\`
`;

let bundles: string;
let notes: string;
let editor: Editor;

const uriOf = (file: string): string => pathToFileURL(join(notes, file)).href;
const ask = <R>(method: string, params: unknown): Promise<R> => editor.connection.sendRequest(method, params);

beforeAll(async () => {
  bundles = await buildBundles();
  notes = mkdtempSync(join(tmpdir(), "witness-mark-own-"));
  writeFileSync(join(notes, "shop.yaml"), "altitude: 120 m\n");
  editor = await Editor.start({ folder: bundles });
}, 60_000);

afterAll(async () => {
  await editor.stop();
  removeBundles(bundles);
  rmSync(notes, { recursive: true, force: true });
});

describe("what the extension asks beyond the protocol", () => {
  it("is a note at a glance, open or not, and null for what is no job note", async () => {
    const closed = await ask<Look>("witness-mark/look", { uri: uriOf("a.md"), text: NOTE });
    expect(closed).toMatchObject({ job: "2031-0042", subject: "bench supply", status: "open", stepsToDo: 1 });
    const comma = closed.findings.find(({ rule }) => rule === "unit/decimal-comma");
    expect(comma).toMatchObject({ severity: "error", range: { start: { line: 8, character: 16 } } });
    expect(closed.findings.find(({ rule }) => rule === "reading/implausible")?.accepted).toBe("bench test");
    // What is open counts as it stands in the editor.
    const text = NOTE.replace("9,1", "9.1");
    await editor.open(uriOf("a.md"), text);
    const open = await ask<Look>("witness-mark/look", { uri: uriOf("a.md"), text: NOTE });
    expect(open.findings.map(({ rule }) => rule)).not.toContain("unit/decimal-comma");
    expect(await ask("witness-mark/look", { uri: uriOf("b.md"), text: "# Title\n" })).toBeNull();
    expect(await ask("witness-mark/look", { uri: uriOf("c.md") })).toBeNull();
  });

  it("is the text of a new note, which reads without a mistake of form once its gaps are filled", async () => {
    const procedures = await ask<OfferedProcedure[]>("witness-mark/procedures", { near: uriOf("a.md") });
    expect(procedures.length).toBeGreaterThan(8);
    for (const { id, title } of procedures) {
      expect(title).not.toBe("");
      const params = { procedure: id, job: "2031-0077", date: "2031-03-04" };
      const snippet = await ask<string>("witness-mark/newNote", params);
      // Every gap is filled with what cannot be wrong in its place.
      const filled = snippet
        .replace(/(: )\$\{?\d+\}?(?= [^\s}])/g, "$11")
        .replace(/\$\{0\}/g, "")
        .replace(/^\$\{\d+\}$/gm, "")
        .replace(/\$\{?\d+\}?/g, "words")
        .replace(/\\([\\$}])/g, "$1");
      const note = readNote(filled, readYaml);
      expect([id, note.frontMatter.fields.procedure, note.frontMatter.fields.status]).toEqual([
        id,
        id,
        "open",
      ]);
      expect([id, note.frontMatter.problems]).toEqual([id, []]);
      for (const block of note.blocks)
        for (const { syntax, offset, length } of block.lines)
          expect([id, filled.slice(offset, offset + length), syntax.problems]).toEqual([
            id,
            filled.slice(offset, offset + length),
            [],
          ]);
    }
    expect(await ask("witness-mark/newNote", { procedure: "none", job: "1", date: "2031-03-04" })).toBeNull();
  });

  it("is to take a shop file for notes that lie on no disk", async () => {
    const uri = "vscode-vfs://example/notes/a.md";
    const text = "---\njob: 1\n---\n\n```readings\nx: 9.1 A via C1\n```\n";
    const rules = async (): Promise<unknown[]> => (await editor.findings(uri)).map(({ code }) => code);
    await editor.open(uri, text);
    expect(await rules()).not.toContain("instrument/unknown");
    const shop = { uri: "vscode-vfs://example/notes/shop.yaml", text: "altitude: 120 m\n" };
    const again = editor.nextPublish();
    await editor.connection.sendNotification("witness-mark/shop", {
      folder: "vscode-vfs://example/notes",
      shop,
    });
    await again;
    while (!(await rules()).includes("instrument/unknown")) await editor.nextPublish();
  });
});

describe("the settings", () => {
  const set = (settings: unknown): Promise<void> =>
    editor.connection.sendNotification("workspace/didChangeConfiguration", { settings });

  it("turn hints and informing findings off and on, without a new start", async () => {
    const uri = uriOf("settings.md");
    const sample = readFileSync(
      join(import.meta.dirname, "../../samples/exhaust-flange-apprentice.md"),
      "utf8",
    );
    const informing = (await editor.open(uri, sample)).filter(({ severity }) => severity === 3).length;
    expect(informing).toBeGreaterThan(0);
    expect((await editor.hints(uri)).length).toBeGreaterThan(0);

    await set({ "witness-mark": { hints: false, information: false } });
    expect(await editor.hints(uri)).toEqual([]);
    while (
      editor
        .published(uri)
        .at(-1)
        ?.diagnostics.some(({ severity }) => severity === 3)
    )
      await editor.nextPublish();

    // What is missing or of another form goes back to its default.
    await set({ "witness-mark": { hints: "yes" } });
    expect((await editor.hints(uri)).length).toBeGreaterThan(0);
    while (
      !editor
        .published(uri)
        .at(-1)
        ?.diagnostics.some(({ severity }) => severity === 3)
    )
      await editor.nextPublish();
  });

  it("may also be handed over at the start, or be asked for", async () => {
    const start = await Editor.start({
      folder: bundles,
      initializationOptions: { settings: { hints: false } },
      capabilities: { workspace: { configuration: true } },
    });
    start.connection.onRequest("workspace/configuration", () => [{ hints: true }]);
    const uri = uriOf("start.md");
    await start.open(uri, NOTE);
    expect(await start.hints(uri)).toEqual([]);
    await start.connection.sendNotification("workspace/didChangeConfiguration", { settings: null });
    let hints = await start.hints(uri);
    while (hints.length === 0) hints = await start.hints(uri);
    expect(hints.length).toBeGreaterThan(0);
    await start.stop();
  });
});
