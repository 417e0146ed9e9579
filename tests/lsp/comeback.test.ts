// `comeback of: JOB` leads to the note of the first job, and the hover tells what that was.
import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor, markdownOf } from "./editor.ts";

const note = (job: string, more = ""): string => `---\njob: ${job}\n${more}---\n\n# Job\n`;
const BACK = note("2031-0077", "subject: rear lamp, fogged again\ncomeback of: 2031-0042\n");
const FIRST =
  "date: 2031-03-04\nsubject: right rear lamp\ncause: lower seam\ncorrection: seam sealed\nstatus: done\noutcome: repaired\n";

let bundles: string;
let folder: string;
let editor: Editor;

const pathOf = (...path: string[]): string => join(folder, ...path);
const uriOf = (...path: string[]): string => pathToFileURL(pathOf(...path)).href;
const at = (part: string, after = 2): { textDocument: { uri: string }; position: lsp.Position } => ({
  textDocument: { uri: uriOf("back.md") },
  position: editor.positionOf(uriOf("back.md"), part, after),
});
const ask = <R>(method: string, params: object): Promise<R> => editor.connection.sendRequest(method, params);
const definition = (): Promise<lsp.Location[] | null> => ask("textDocument/definition", at("2031-0042"));
const hover = async (): Promise<string> => markdownOf(await ask("textDocument/hover", at("2031-0042")));

beforeAll(async () => {
  bundles = await buildBundles();
}, 60_000);
afterAll(() => removeBundles(bundles));
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  mkdirSync(pathOf("2031"));
  writeFileSync(pathOf("README.md"), "# Notes\n\njob: 2031-0042\n");
  writeFileSync(pathOf("2031", "lamp.md"), note("2031-0042", FIRST));
  writeFileSync(pathOf("2031", "other.md"), note("2031-0043"));
  writeFileSync(pathOf("back.md"), BACK);
  editor = await Editor.start({ folder: bundles, folders: [pathToFileURL(folder).href] });
  await editor.open(uriOf("back.md"), BACK);
});
afterEach(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  rmSync(folder, { recursive: true });
});

it("leads to the job number of that note", async () => {
  const range = { start: { line: 1, character: 5 }, end: { line: 1, character: 14 } };
  expect(await definition()).toEqual([{ uri: uriOf("2031", "lamp.md"), range }]);
  // The number of the note itself is no comeback.
  expect(await ask("textDocument/definition", at("2031-0077"))).toBeNull();
});

it("is a link, whose target is looked up when it is followed", async () => {
  const links = await ask<lsp.DocumentLink[]>("textDocument/documentLink", at("job"));
  expect(links).toHaveLength(1);
  expect(links[0]).toMatchObject({
    range: { start: { line: 3, character: 13 }, end: { line: 3, character: 22 } },
  });
  expect(links[0]?.target).toBeUndefined();
  const resolved = await ask<lsp.DocumentLink>("documentLink/resolve", links[0] ?? {});
  expect(resolved.target).toBe(uriOf("2031", "lamp.md"));
});

it("tells in the hover what the first job was", async () => {
  const told = await hover();
  expect(told).toContain("Job 2031-0042: right rear lamp");
  expect(told).toContain("lower seam");
  expect(told).toContain("done, repaired");
  expect(told).toContain("2031/lamp.md");
});

it("says so where no note has the number, and sees one come, change and go", async () => {
  rmSync(pathOf("2031", "lamp.md"));
  expect(await definition()).toBeNull();
  expect(await hover()).toContain("No other note of the open folders has this job number");
  const links = await ask<lsp.DocumentLink[]>("textDocument/documentLink", at("job"));
  expect((await ask<lsp.DocumentLink>("documentLink/resolve", links[0] ?? {})).target).toBeUndefined();

  const other = pathOf("2031", "other.md");
  writeFileSync(other, note("2031-0042", "subject: a renamed job\n"));
  // A coarse clock of a file system must not hide the change.
  utimesSync(other, new Date(), new Date(Date.now() + 5000));
  expect(await hover()).toContain("Job 2031-0042: a renamed job");
  // What is open counts as it stands in the editor.
  await editor.open(uriOf("2031", "other.md"), note("2031-0043"));
  expect(await definition()).toBeNull();
});

it("takes the earliest of several notes with the number first, and names the others", async () => {
  writeFileSync(pathOf("a.md"), note("2031-0042", "date: 2031-05-01\n"));
  writeFileSync(pathOf("0.md"), note("2031-0042"));
  expect((await definition())?.map(({ uri }) => uri)).toEqual([
    uriOf("2031", "lamp.md"),
    uriOf("a.md"),
    uriOf("0.md"),
  ]);
  expect(await hover()).toMatch(/The same number has[\s\S]*a\.md[\s\S]*0\.md/);
});

it("searches the note's own folder where none is open", async () => {
  const alone = await Editor.start({ folder: bundles });
  await alone.open(uriOf("back.md"), BACK);
  const found: lsp.Location[] = await alone.connection.sendRequest(
    "textDocument/definition",
    at("2031-0042"),
  );
  expect(found.map(({ uri }) => uri)).toEqual([uriOf("2031", "lamp.md")]);
  expect(await alone.stop()).toBe(0);
});

it("never leads to the note itself", async () => {
  editor.replace(uriOf("back.md"), "comeback of: 2031-0042", "comeback of: 2031-0077");
  const params = at("comeback of: 2031-0077", 15);
  expect(await ask("textDocument/definition", params)).toBeNull();
});
