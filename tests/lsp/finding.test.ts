import { mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CancellationTokenSource, type FileChangeType } from "vscode-languageserver/node";
import type { FindAnswer, SimilarAnswer } from "../../server/src/lsp/own-messages.ts";
import { earlierJobs, noteText } from "../base/earlier-jobs.ts";
import { generateNotes } from "../generate/notes.ts";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const [CREATED, CHANGED, DELETED] = [1, 2, 3] as const;

/** A note with one leak size. */
const noteWith = (job: string, size: string, more = ""): string => `---
job: ${job}
procedure: lamp-moisture
subject: invented lamp ${job}
complaint: droplets behind the glass
status: open
---

${more}

\`\`\`readings
leak size: ${size}
\`\`\`
`;

let bundles: string;
let root: string;
let editor: Editor;

const put = (path: string, text: string): string => {
  const file = join(root, path);
  mkdirSync(join(file, ".."), { recursive: true });
  writeFileSync(file, text);
  return uriOf(path);
};
const uriOf = (path: string): string => pathToFileURL(join(root, path)).href;
const find = (question: string, more = {}): Promise<FindAnswer> =>
  editor.connection.sendRequest("witness-mark/find", { question, ...more });
const paths = async (question: string, more = {}): Promise<string[]> =>
  (await find(question, more)).notes.map(({ path }) => path).sort();
const tell = (type: FileChangeType, ...changed: readonly string[]): Promise<void> =>
  editor.connection.sendNotification("workspace/didChangeWatchedFiles", {
    changes: changed.map((path) => ({ uri: uriOf(path), type })),
  });

beforeAll(async () => {
  bundles = await buildBundles();
}, 60_000);

afterAll(() => removeBundles(bundles));

/** A fresh root with an editor on these folders of it. */
const withFolders = (...folders: readonly string[]) => {
  beforeAll(async () => {
    root = mkdtempSync(join(tmpdir(), "witness-mark-finding-"));
    for (const folder of folders) mkdirSync(join(root, folder, ".git"), { recursive: true });
  });
  afterAll(async () => {
    await editor.stop();
    rmSync(root, { recursive: true, force: true });
  });
};
const start = async (...folders: readonly string[]): Promise<void> => {
  editor = await Editor.start({ folder: bundles, folders: folders.map(uriOf) });
};

describe("finding among the notes of a folder", () => {
  withFolders("notes");
  beforeAll(async () => {
    for (const job of earlierJobs) put(`notes/${job.procedure}/${job.job}.md`, noteText(job));
    put("notes/README.md", "# No job note, with leak size\n");
    put("notes/node_modules/a/b.md", noteWith("9", "9 mm"));
    await start("notes");
  });

  it("answers a condition with the values that it names and the line that each stands in", async () => {
    const answer = await find('leak size > 1.2 mm and procedure is "evap-leak"');
    expect(answer).toMatchObject({ readAs: "condition", total: 1, among: 60, unread: [] });
    const [note] = answer.notes;
    expect(note).toMatchObject({ path: "evap-leak/2030-0016.md", job: "2030-0016", date: "2030-05-06" });
    const text = noteText(earlierJobs.find(({ job }) => job === "2030-0016") ?? fail());
    const line = text.split("\n").findIndex((one) => one.startsWith("leak size:"));
    expect(note?.places[0]).toMatchObject({
      says: "leak size: 1.40 mm ± 0.06 mm",
      range: { start: { line }, end: { line } },
    });
    expect(note?.places[1]?.says).toBe("procedure: evap-leak");
  });

  it("finds words in spite of a slip, and the line that holds them", async () => {
    const answer = await find("foged lens");
    expect(answer.readAs).toBe("words");
    expect(answer.notes.map(({ job }) => job)).toContain("2030-0003");
    const note = answer.notes.find(({ job }) => job === "2030-0003");
    expect(note?.places[0]?.says).toContain("fogged lens on one side");
  });

  it("finds a job by its number, or by a part of it", async () => {
    const { notes } = await find("2030-0016");
    expect(notes.map(({ job }) => job)).toEqual(["2030-0016"]);
    expect(notes[0]?.places[0]).toMatchObject({ says: "job: 2030-0016", range: { start: { line: 1 } } });
    expect((await find("030-001")).total).toBe(10);
  });

  it("says what is wrong with a condition, where, and what was likely meant", async () => {
    const { wrong, notes } = await find("flow > 1 L/min and leek size > 1 mm");
    expect(notes).toEqual([]);
    expect(wrong).toMatchObject({
      message: "No note has a reading or field called `leek size`.",
      from: 19,
      to: 28,
      instead: ["leak size"],
    });
    expect((await find("leak size > 1 mn")).wrong).toMatchObject({ from: 14, to: 16 });
    expect((await find("leak size >")).wrong?.message).not.toBe("");
    // Nothing was typed yet: how to ask, with names that these notes have.
    const empty = await find("");
    expect(empty).toMatchObject({ readAs: "nothing", notes: [], among: 60 });
    for (const { question } of empty.examples)
      expect([question, (await find(question)).wrong]).toEqual([question, undefined]);
    expect(empty.examples.some(({ question }) => question.startsWith("test pressure >"))).toBe(true);
  });

  it("says how many there are beyond those that it lists, and what was left out", async () => {
    const few = await find("test pressure > 0 psi", { most: 2 });
    expect(few.notes).toHaveLength(2);
    expect(few.total).toBeGreaterThan(10);
    const none = await find("leak size > 1 bar");
    expect(none.total).toBe(0);
    expect(none.leftOut[0]).toMatch(/^Left out \d+ times, as mm cannot be compared with bar\.$/);
  });

  it("ranks notes like the one at hand, which need not lie in the folder, and says why", async () => {
    const similar = (uri: string): Promise<SimilarAnswer | null> =>
      editor.connection.sendRequest("witness-mark/similar", { uri, most: 3 });
    const uri = uriOf("notes/lamp-moisture/2030-0001.md");
    const answer = await similar(uri);
    expect(answer?.notes[0]).toMatchObject({ job: "2030-0002", path: "lamp-moisture/2030-0002.md" });
    expect(answer?.notes[0]?.because.join()).toContain("the same procedure, lamp-moisture");
    expect(answer?.notes.map(({ job }) => job)).not.toContain("2030-0001");
    const outside = put("elsewhere/new.md", noteWith("2031-1", "0.4 mm"));
    expect((await similar(outside))?.notes).toHaveLength(3);
    await editor.open("untitled:Untitled-1", noteWith("2031-2", "0.4 mm"));
    expect((await similar("untitled:Untitled-1"))?.notes).toHaveLength(3);
    editor.close("untitled:Untitled-1");
    expect(await similar(uriOf("notes/README.md"))).toBeNull();
    expect(await similar(uriOf("notes/gone.md"))).toBeNull();
  });

  it("answers a malformed question as an empty one", async () => {
    expect(await editor.connection.sendRequest("witness-mark/find", {})).toMatchObject({ readAs: "nothing" });
  });
});

const fail = (): never => {
  throw new Error("not there");
};

describe("the index while notes change", () => {
  withFolders("notes");
  beforeAll(async () => {
    put("notes/a.md", noteWith("1", "1 mm"));
    put("notes/sub/b c.md", noteWith("2", "2 mm"));
    await start("notes");
    expect(await paths("leak size > 0 mm")).toEqual(["a.md", "sub/b c.md"]);
  });

  it("asks the editor to tell of notes that change", async () => {
    await editor.open("untitled:wait", "");
    const watched = JSON.stringify(editor.registrations);
    expect(watched).toContain("**/*.{md,markdown}");
    editor.close("untitled:wait");
  });

  it("takes an open note as it stands in the editor, and the disk again once it is closed", async () => {
    // An editor may write the address of the same file in another way.
    const uri = uriOf("notes/sub/b c.md").replace("b%20c", "b%20%63");
    await editor.open(uri, noteWith("2", "2 mm"));
    editor.replace(uri, "2 mm", "7 mm");
    const answer = await find("leak size > 5 mm");
    expect(answer).toMatchObject({ total: 1, among: 2 });
    expect(answer.notes[0]?.places[0]?.says).toMatch(/^leak size: 7\.?0* mm/);
    editor.replace(uri, "job: 2\n", "jab: 2\n");
    editor.replace(uri, "procedure: lamp-moisture\n", "");
    editor.replace(uri, "```readings", "```text");
    expect(await paths("leak size > 0 mm")).toEqual(["a.md"]);
    editor.close(uri);
    expect(await paths("leak size > 0 mm")).toEqual(["a.md", "sub/b c.md"]);
    expect(await paths("leak size > 5 mm")).toEqual([]);
  });

  it("follows files that are made, changed and deleted, and folders that are moved", async () => {
    put("notes/c.md", noteWith("3", "3 mm"));
    // Nobody told yet.
    expect(await paths("leak size > 2.5 mm")).toEqual([]);
    await tell(CREATED, "notes/c.md");
    expect(await paths("leak size > 2.5 mm")).toEqual(["c.md"]);
    put("notes/c.md", noteWith("3", "0.3 mm"));
    await tell(CHANGED, "notes/c.md");
    expect(await paths("leak size > 2.5 mm")).toEqual([]);
    expect(await paths("leak size < 0.5 mm")).toEqual(["c.md"]);
    // Words were not asked for before, and after the first time they follow too.
    expect(await paths("droplets")).toEqual(["a.md", "c.md", "sub/b c.md"]);
    put("notes/c.md", noteWith("3", "0.3 mm", "A cracked bracket."));
    await tell(CHANGED, "notes/c.md");
    expect(await paths("bracket")).toEqual(["c.md"]);
    rmSync(join(root, "notes/a.md"));
    await tell(DELETED, "notes/a.md");
    expect(await paths("droplets")).toEqual(["c.md", "sub/b c.md"]);
    renameSync(join(root, "notes/sub"), join(root, "notes/moved"));
    await tell(DELETED, "notes/sub");
    await tell(CREATED, "notes/moved");
    expect(await paths("leak size > 0 mm")).toEqual(["c.md", "moved/b c.md"]);
    put("notes/.hidden/d.md", noteWith("4", "4 mm"));
    put("elsewhere/d.md", noteWith("4", "4 mm"));
    await tell(CREATED, "notes/.hidden/d.md", "elsewhere/d.md");
    expect(await paths("leak size > 0 mm")).toEqual(["c.md", "moved/b c.md"]);
  });

  it("looks at every file when it is asked to, told or not", async () => {
    put("notes/c.md", noteWith("3", "30 mm"));
    put("notes/e.md", noteWith("5", "50 mm"));
    rmSync(join(root, "notes/moved"), { recursive: true });
    expect(await paths("leak size > 0 mm", { again: true })).toEqual(["c.md", "e.md"]);
    expect(await paths("leak size > 20 mm")).toEqual(["c.md", "e.md"]);
  });

  it("checks notes anew when their shop file or a picture of theirs comes or goes", async () => {
    put("notes/f.md", noteWith("6", "6 mm", "![seam](seam.png)"));
    await tell(CREATED, "notes/f.md");
    expect(await paths('finding("note/missing-file")')).toEqual(["f.md"]);
    put("notes/seam.png", "");
    await tell(CREATED, "notes/seam.png");
    expect(await paths('finding("note/missing-file")')).toEqual([]);
    put("notes/g.md", noteWith("7", "7 mm via X1"));
    await tell(CREATED, "notes/g.md");
    expect(await paths('finding("instrument/unknown")')).toEqual([]);
    put("notes/shop.yaml", "altitude: 120 m\n");
    await tell(CREATED, "notes/shop.yaml");
    expect(await paths('finding("instrument/unknown")')).toEqual(["g.md"]);
    rmSync(join(root, "notes/shop.yaml"));
    await tell(DELETED, "notes/shop.yaml");
    expect(await paths('finding("instrument/unknown")')).toEqual([]);
  });

  it("names files that cannot be read instead of passing them by in silence", async () => {
    const uri = put("notes/h.md", "");
    writeFileSync(join(root, "notes/h.md"), Buffer.from([0xff, 0xfe, 0x2d, 0x00]));
    await tell(CREATED, "notes/h.md");
    expect((await find("droplets")).unread).toEqual([uri]);
    rmSync(join(root, "notes/h.md"));
    await tell(DELETED, "notes/h.md");
    expect((await find("droplets")).unread).toEqual([]);
  });
});

describe("several folders at once", () => {
  withFolders("east/notes", "west/notes");

  it("puts each folder's name before its notes, and follows folders that come and go", async () => {
    put("east/notes/a.md", noteWith("1", "1 mm"));
    put("west/notes/a.md", noteWith("2", "2 mm"));
    editor = await Editor.start({
      folder: bundles,
      folders: [uriOf("east/notes"), uriOf("west/notes")],
      capabilities: {
        workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } },
      },
    });
    expect(await paths("leak size > 0 mm")).toEqual(["notes (2)/a.md", "notes/a.md"]);
    const event = { added: [], removed: [{ uri: uriOf("west/notes"), name: "notes" }] };
    await editor.connection.sendNotification("workspace/didChangeWorkspaceFolders", { event });
    expect(await paths("leak size > 0 mm")).toEqual(["a.md"]);
    const similar = await editor.connection.sendRequest<SimilarAnswer>("witness-mark/similar", {
      uri: uriOf("west/notes/a.md"),
    });
    expect(similar.notes.map(({ path }) => path)).toEqual(["a.md"]);
  });
});

describe("an editor that tells of no changes", () => {
  withFolders("notes");

  it("has every file looked at with every question", async () => {
    put("notes/a.md", noteWith("1", "1 mm"));
    editor = await Editor.start({ folder: bundles, folders: [uriOf("notes")], capabilities: {} });
    expect(await paths("leak size > 0 mm")).toEqual(["a.md"]);
    put("notes/a.md", noteWith("1", "10 mm"));
    put("notes/b.md", noteWith("2", "20 mm"));
    expect(await paths("leak size > 5 mm")).toEqual(["a.md", "b.md"]);
    put("notes/c.md", noteWith("3", "3 mm via X1", "![seam](seam.png)"));
    expect(await paths('finding("note/missing-file")')).toEqual(["c.md"]);
    put("notes/seam.png", "");
    put("notes/shop.yaml", "altitude: 120 m\n");
    expect(await paths('finding("note/missing-file")')).toEqual([]);
    expect(await paths('finding("instrument/unknown")')).toEqual(["c.md"]);
  });
});

describe("notes that only the client can read", () => {
  const BASE = "vscode-vfs://example/notes";
  const texts = new Map([
    [`${BASE}/a.md`, noteWith("1", "1 mm via X1")],
    [`${BASE}/b.md`, noteWith("2", "2 mm")],
    [`${BASE}/README.md`, "# Nothing\n"],
  ]);
  afterAll(() => editor.stop());

  it("are asked for, and asked for again when they change", async () => {
    const asked: string[] = [];
    editor = await Editor.start({
      folder: bundles,
      folders: [BASE],
      initializationOptions: { handsNotes: true },
    });
    editor.connection.onRequest("witness-mark/notes", () => [...texts.keys()]);
    editor.connection.onRequest("witness-mark/noteText", ({ uri }: { uri: string }) => {
      asked.push(uri);
      return texts.get(uri) ?? null;
    });
    expect(await paths("leak size > 0 mm")).toEqual(["a.md", "b.md"]);
    expect(asked).toHaveLength(3);
    expect(await paths("droplets")).toEqual(["a.md", "b.md"]);
    texts.set(`${BASE}/b.md`, noteWith("2", "0.2 mm"));
    asked.length = 0;
    const changes = [{ uri: `${BASE}/b.md`, type: CHANGED }];
    await editor.connection.sendNotification("workspace/didChangeWatchedFiles", { changes });
    expect(await paths("leak size > 0.5 mm")).toEqual(["a.md"]);
    expect(asked).toEqual([`${BASE}/b.md`]);
    // The shop file that the client hands counts for all the notes under it.
    expect(await paths('finding("instrument/unknown")')).toEqual([]);
    const shop = { uri: `${BASE}/shop.yaml`, text: "altitude: 120 m\n" };
    await editor.connection.sendNotification("witness-mark/shop", { folder: BASE, shop });
    expect(await paths('finding("instrument/unknown")')).toEqual(["a.md"]);
  });
});

describe("many notes", () => {
  withFolders("notes");
  const COUNT = 600;
  beforeAll(async () => {
    for (const { path, text } of generateNotes(COUNT)) put(`notes/${path}`, text);
    await start("notes");
  });

  it("tells how far the reading is, can be called off, and goes on from there", async () => {
    const told: string[] = [];
    editor.connection.onNotification(
      "$/progress",
      ({ token, value }: { token: string; value: { message?: string; kind: string } }) => {
        told.push(`${token} ${value.kind} ${value.message ?? ""}`);
      },
    );
    const source = new CancellationTokenSource();
    const first = editor.connection.sendRequest(
      "witness-mark/find",
      { question: "a", workDoneToken: "t" },
      source.token,
    );
    while (!told.some((one) => one.startsWith("t report"))) await new Promise((done) => setTimeout(done, 20));
    // While it reads, an open note is answered as ever.
    const uri = "untitled:busy";
    await editor.open(uri, noteWith("1", "1,5 mm"));
    const started = performance.now();
    editor.replace(uri, "1,5 mm", "1.5 mm");
    expect((await editor.findings(uri)).map(({ code }) => code)).not.toContain("unit/decimal-comma");
    const waited = performance.now() - started;
    source.cancel();
    await expect(first).rejects.toMatchObject({ code: -32800 });
    expect(told.at(-1)).toMatch(/^t end/);
    // Generous, since other tests may run beside this one; a whole reading takes many times as long.
    expect(waited).toBeLessThan(500);
    editor.close(uri);
    expect(await find("test pressure > 0 psi or test pressure > 0 inH2O")).toMatchObject({ among: COUNT });
  }, 60_000);

  it("begins a progress of its own in an editor that shows one, and stops when it is stopped there", async () => {
    const other = await Editor.start({
      folder: bundles,
      folders: [uriOf("notes")],
      capabilities: { window: { workDoneProgress: true } },
    });
    const tokens: string[] = [];
    other.connection.onRequest("window/workDoneProgress/create", ({ token }: { token: string }) => {
      tokens.push(token);
      return null;
    });
    const begun = new Promise<{ kind: string; cancellable?: boolean }>((resolve) => {
      other.connection.onNotification("$/progress", ({ value }: { value: { kind: string } }) =>
        resolve(value),
      );
    });
    const asked = other.connection.sendRequest("witness-mark/find", { question: "droplets" });
    expect(await begun).toMatchObject({ kind: "begin", cancellable: true });
    await other.connection.sendNotification("window/workDoneProgress/cancel", { token: tokens[0] });
    await expect(asked).rejects.toMatchObject({ code: -32800 });
    await other.stop();
  }, 60_000);
});
