import { once } from "node:events";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { beforeAll, describe, expect, it } from "vitest";
import type { FileOutcome } from "../../server/src/cli/file-checker.ts";
import type { PartDone } from "../../server/src/cli/shared-work.ts";
import { findTexts } from "../../server/src/host/find-texts.ts";
import { generateNotes } from "../generate/notes.ts";
import { makeWithLate } from "../lsp/build-server.ts";
import { folderWith, type Ran, runIn } from "./run-in.ts";

const NOTES = 120;

describe("many notes", { timeout: 60_000 }, () => {
  const scripts = folderWith({});
  const notes = folderWith(
    Object.fromEntries([...generateNotes(NOTES, 7)].map(({ path, text }) => [path, text])),
  );
  let alone: Ran;

  beforeAll(async () => {
    await makeWithLate(scripts, "worker");
    alone = await runIn(notes, ["check", "--format", "json"]);
  }, 60_000);

  it("give the same result, in the same order, however the work is shared", async () => {
    const shared = await runIn(notes, ["check", "--format", "json"], {
      helpers: { script: join(scripts, "worker.js"), from: NOTES },
    });
    expect(shared.out === alone.out).toBe(true);
    expect(shared.status).toBe(alone.status);
    expect(JSON.parse(shared.out)).toMatchObject({ totals: { notes: NOTES } });
  });

  it("give the same result when a helping thread does all the work", async () => {
    const form = { format: "json", quiet: false, values: false, emphasis: false, width: 100 } as const;
    const paths = findTexts(["."], notes).notes;
    const next = new SharedArrayBuffer(4);
    const worker = new Worker(join(scripts, "worker.js"), {
      workerData: { paths, folder: notes, form, next },
    });
    const parts: PartDone<FileOutcome>[] = [];
    worker.on("message", (part) => parts.push(part));
    await once(worker, "exit");
    const written = parts.flatMap(({ outcomes }) => outcomes.map((outcome) => outcome.written));
    expect(written).toHaveLength(NOTES);
    expect(JSON.parse(`[${written.join(",")}]`)).toEqual(JSON.parse(alone.out).notes);
  });

  it.each([
    ["is not there", undefined],
    ["fails at its start", "throw new Error('boom');"],
    [
      "takes a part and breaks off",
      `const { workerData } = require("node:worker_threads");
       Atomics.add(new Int32Array(workerData.next), 0, 1);
       process.exit(3);`,
    ],
  ])("are all checked when a helping thread %s", async (_, script) => {
    const path = join(scripts, "bad.js");
    if (script !== undefined) writeFileSync(path, script);
    const ran = await runIn(notes, ["check", "--format", "json"], { helpers: { script: path, from: NOTES } });
    expect(ran.out === alone.out).toBe(true);
    expect(ran).toMatchObject({ status: alone.status, err: "" });
  });
});
