// A series that takes its rows from a log: read by the server, kept while the note is typed, read again when it changes.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor, messageOf } from "./editor.ts";

const NOTE =
  "---\njob: test\n---\n\n```series log\nfrom: log.csv\nt [s], p [Pa]\n```\n\n```readings\nrate [Pa/s] = slope(log p, log t)\n```\n\n```limits\nlog p <= 4 kPa\n```\n";

let bundles: string;
let folder: string;
let editor: Editor;

beforeAll(async () => {
  bundles = await buildBundles();
});
afterAll(() => removeBundles(bundles));
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  mkdirSync(join(folder, ".git"));
  editor = await Editor.start({ folder: bundles });
});
afterEach(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  rmSync(folder, { recursive: true });
});

it("shows what follows from the log, and sees it change", async () => {
  const log = join(folder, "log.csv");
  const uri = pathToFileURL(join(folder, "note.md")).href;
  writeFileSync(log, "time,pressure\n0,3000\n60,2880\n120,2760\n");
  expect(await editor.open(uri, NOTE)).toEqual([]);
  const shown = async () => JSON.stringify((await editor.hints(uri)).map((hint) => hint.label));
  expect(await shown()).toContain("-2.000 Pa/s");

  const before = editor.published(uri).length;
  writeFileSync(log, "time,pressure\n0,4200\n60,2880\n120,off\n");
  const changes = [{ uri: pathToFileURL(log).href, type: 2 as const }];
  await editor.connection.sendNotification("workspace/didChangeWatchedFiles", { changes });
  while (editor.published(uri).length === before) await editor.nextPublish();
  const found = editor.published(uri).at(-1)?.diagnostics ?? [];
  expect(found.map(({ code }) => code)).toEqual(["note/syntax", "reading/out-of-validity", "limit/exceeded"]);
  expect(found[0] && messageOf(found[0])).toContain("Row 4 of `log.csv`: `off` in column 2");
});

it("reads no file outside the folder of the notes", async () => {
  writeFileSync(join(folder, "outside.csv"), "0,1\n1,2\n");
  mkdirSync(join(folder, "notes"));
  const uri = pathToFileURL(join(folder, "notes", "note.md")).href;
  const [found, ...others] = await editor.open(uri, NOTE.replace("log.csv", "../outside.csv"));
  expect(found && messageOf(found)).toContain("leads out of the folder of the notes");
  expect(others).toEqual([]);
});
