import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { beforeAll, describe, expect, it } from "vitest";
import { generateNotes } from "../generate/notes.ts";
import { folderWith, type Ran, runIn } from "./run-in.ts";

// Enough notes that the work is shared among threads.
const NOTES = 330;

describe("many notes", { timeout: 60_000 }, () => {
  const scripts = folderWith({});
  const notes = folderWith(
    Object.fromEntries([...generateNotes(NOTES, 7)].map(({ path, text }) => [path, text])),
  );
  let alone: Ran;

  beforeAll(async () => {
    const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
    await build({
      entryPoints: {
        worker: join(root, "server/src/cli/worker.ts"),
        yaml: join(root, "server/src/note/yaml-library.ts"),
      },
      outdir: scripts,
      bundle: true,
      platform: "node",
      target: "node20",
      format: "cjs",
      mainFields: ["module", "main"],
      external: ["./yaml.js"],
      logLevel: "silent",
    });
    alone = await runIn(notes, ["check", "--format", "json"]);
  }, 60_000);

  it("give the same result, in the same order, however the work is shared", async () => {
    const shared = await runIn(notes, ["check", "--format", "json"], {
      workerScript: join(scripts, "worker.js"),
    });
    expect(shared.out === alone.out).toBe(true);
    expect(shared.status).toBe(alone.status);
    expect(JSON.parse(shared.out)).toMatchObject({ totals: { notes: NOTES } });
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
    const ran = await runIn(notes, ["check", "--format", "json"], { workerScript: path });
    expect(ran.out === alone.out).toBe(true);
    expect(ran).toMatchObject({ status: alone.status, err: "" });
  });
});
