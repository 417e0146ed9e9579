import { mkdtempSync, readdirSync, readFileSync, rmSync, unlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CommandLibraries } from "../../server/src/host/libraries.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { generateNotes } from "../generate/notes.ts";
import { makeWithLate } from "../lsp/build-server.ts";
import { CLEAR, folderWith, type Ran, runIn } from "./run-in.ts";

const NOTES = 210;
const notes = folderWith({
  ...Object.fromEntries([...generateNotes(NOTES, 11)].map(({ path, text }) => [path, text])),
  "README.md": "# No note\n",
  "shop.yaml": "altitude: 300 m\nwrong key: 1\n",
});
const caches = mkdtempSync(join(tmpdir(), "witness-mark-cache-"));
afterAll(() => rmSync(caches, { recursive: true, force: true }));
const cache = { folder: caches, build: () => "this one" };
const first = join(notes, "000/job-000-00.md");

const notToBeLoaded = () => {
  throw new Error("not to be loaded");
};
/** With these no note is analyzed, since its shop file cannot be read; the last line of a report still can be written. */
const BROKEN: CommandLibraries = {
  yaml: notToBeLoaded,
  procedures: () => builtInProcedures,
  logs: notToBeLoaded,
  reporting: notToBeLoaded,
};

describe("outcomes kept from one check to the next", { timeout: 120_000 }, () => {
  const plain = (args: readonly string[] = []): Promise<Ran> => runIn(notes, ["check", ...args]);
  const kept = (args: readonly string[] = [], more = {}): Promise<Ran> =>
    runIn(notes, ["check", ...args], { cache, ...more });

  it.each([[[]], [["--values"]], [["--format", "json"]], [["--quiet"]]])(
    "change nothing about %j",
    async (args) => {
      const without = await plain(args);
      expect(await kept(args)).toEqual(without);
      expect(await kept(args)).toEqual(without);
      // What cannot analyze anything still gives the whole report.
      expect(await kept(args, { libraries: BROKEN })).toEqual(without);
    },
  );

  it("follow a note, a shop file and a file beside a note that change", async () => {
    const text = readFileSync(first, "utf8");
    const shop = readFileSync(join(notes, "shop.yaml"), "utf8");
    writeFileSync(first, `${text.replace("supply current <=", "supply curent <=")}\n![lamp](lamp.jpg)\n`);
    expect(await kept()).toEqual(await plain());
    writeFileSync(join(notes, "000/lamp.jpg"), "");
    expect(await kept()).toEqual(await plain());
    unlinkSync(join(notes, "000/lamp.jpg"));
    expect(await kept()).toEqual(await plain());
    writeFileSync(join(notes, "shop.yaml"), "altitude: 2000 m\n");
    expect(await kept()).toEqual(await plain());
    writeFileSync(join(notes, "new.md"), CLEAR);
    expect(await kept()).toEqual(await plain());
    unlinkSync(join(notes, "new.md"));
    writeFileSync(first, text);
    writeFileSync(join(notes, "shop.yaml"), shop);
    expect(await kept()).toEqual(await plain());
  });

  it("are of no use when damaged, and are not kept for a few notes", async () => {
    const without = await plain();
    for (const name of readdirSync(caches)) writeFileSync(join(caches, name), "rubbish");
    expect(await kept()).toEqual(without);
    const empty = mkdtempSync(join(caches, "few-"));
    await runIn(notes, ["check", "000"], { cache: { folder: empty, build: () => "this one" } });
    expect(readdirSync(empty)).toEqual([]);
  });

  describe("with helping threads", () => {
    const scripts = folderWith({});
    beforeAll(async () => {
      await makeWithLate(scripts, "worker");
    }, 60_000);

    it("are the same", async () => {
      const without = await plain();
      const empty = mkdtempSync(join(caches, "threads-"));
      const more = {
        cache: { folder: empty, build: () => "b" },
        helpers: { script: join(scripts, "worker.js"), from: 1 },
      };
      expect(await kept([], more)).toEqual(without);
      expect(await kept([], { ...more, libraries: BROKEN, helpers: undefined })).toEqual(without);
    });
  });
});
