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

it("offers the logs beside the note, how they head their columns, and what each option is for", async () => {
  mkdirSync(join(folder, "logs"));
  mkdirSync(join(folder, ".hidden"));
  writeFileSync(join(folder, ".hidden", "no.csv"), "a,b\n1,2\n");
  writeFileSync(
    join(folder, "logs", "decay.csv"),
    'Logger 7\n"Time (s)","Pressure 1, inner [kPa]",Remark\n0,1,a\n',
  );
  writeFileSync(join(folder, "outside.csv"), "a,b\n1,2\n");
  const uri = pathToFileURL(join(folder, "logs", "note.md")).href;
  const head = "---\njob: test\n---\n\n```series log\n";
  const offered = async (lines: string): Promise<string[]> => {
    editor.change(uri, { text: `${head}${lines}\n\`\`\`\n` });
    const items = await editor.completion(
      uri,
      editor.positionOf(uri, lines.split("\n").at(-1) ?? "", lines.split("\n").at(-1)?.length),
    );
    return items.map(({ label }) => label);
  };
  await editor.open(uri, head);
  expect(await offered("fro")).toEqual(["t [s]", "from:", "skip:", "separator:", "decimal:", "columns:"]);
  expect(await offered("from: ")).toEqual(["decay.csv"]);
  const log = "from: decay.csv\nskip: 1\n";
  expect(await offered(`${log}columns: `)).toEqual(["Time (s)", "Pressure 1, inner [kPa]", "Remark"]);
  expect((await offered(`${log}T`)).slice(0, 2)).toEqual([
    "Time [s], Pressure 1 inner [kPa], Remark",
    "Time [s]",
  ]);
  // A folder that is not the notes' own is not looked into.
  expect(await offered("from: ../outside.csv\ncolumns: ")).toEqual([]);

  editor.change(uri, { text: `${head}dec\n\`\`\`\n` });
  const items = await editor.completion(uri, editor.positionOf(uri, "dec\n", 3));
  const decimal = items.find(({ label }) => label === "decimal:");
  const resolved = await editor.connection.sendRequest<{ documentation: { value: string } }>(
    "completionItem/resolve",
    decimal ?? {},
  );
  expect(resolved.documentation.value).toContain("decimal: comma");
});
