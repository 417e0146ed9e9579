import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { folderWith, runIn } from "../cli/run-in.ts";
import { generateNotes } from "../generate/notes.ts";
import { makeWithLate } from "../lsp/build-server.ts";

const NOTES = 400;
const SAYS = "Stopped before all notes were read.\n";

describe("Ctrl-C while many notes are read", { timeout: 60_000 }, () => {
  const dist = folderWith({});
  const notes = folderWith(
    Object.fromEntries([...generateNotes(NOTES, 11)].map(({ path, text }) => [`notes/${path}`, text])),
  );
  const caches = mkdtempSync(join(tmpdir(), "witness-mark-cache-"));
  const cached = (): string[] => (existsSync(caches) ? readdirSync(caches) : []);
  const args = ["find", "leak size > 0.3 mm", "notes", "--format", "json"];

  beforeAll(async () => {
    await makeWithLate(dist, "cli", "worker");
  }, 60_000);
  afterAll(() => rmSync(caches, { recursive: true, force: true }));

  it.each([
    ["find", args],
    ["export", ["export", "out", "notes", "--format", "csv"]],
    ["site", ["site", "out", "notes"]],
  ])("ends `%s` at once, with nothing half-written", async (_, command) => {
    rmSync(caches, { recursive: true, force: true });
    const child = spawn(process.execPath, [join(dist, "cli.js"), ...command], {
      cwd: notes,
      env: { ...process.env, WITNESS_MARK_CACHE: caches },
    });
    let said = "";
    for (const stream of [child.stdout, child.stderr]) {
      stream.on("data", (piece) => {
        said += String(piece);
      });
    }
    // The cache's file, still under its other name, is there as soon as notes are being read.
    for (let i = 0; i < 2000 && !cached().some((name) => name.endsWith(".tmp")); i++)
      await new Promise((resolve) => setTimeout(resolve, 5));
    expect(cached().filter((name) => name.endsWith(".tmp"))).toHaveLength(1);
    child.kill("SIGINT");
    const [status] = await once(child, "close");
    expect(said).toBe(SAYS);
    expect(status).toBe(2);
    expect(readdirSync(notes).sort()).toEqual([".git", "notes"]);
    expect(cached().filter((name) => !/^records-[0-9a-f]+\.pack$/.test(name))).toEqual([]);
  });

  it("ends `check` at once, and keeps in the cache whole what was checked", async () => {
    rmSync(caches, { recursive: true, force: true });
    const child = spawn(process.execPath, [join(dist, "cli.js"), "check", "notes", "--quiet"], {
      cwd: notes,
      env: { ...process.env, WITNESS_MARK_CACHE: caches },
      stdio: ["ignore", "ignore", "pipe"],
    });
    let said = "";
    child.stderr.on("data", (piece) => {
      said += String(piece);
    });
    for (let i = 0; i < 2000 && !cached().some((name) => name.endsWith(".tmp")); i++)
      await new Promise((resolve) => setTimeout(resolve, 5));
    child.kill("SIGINT");
    const [status] = await once(child, "close");
    expect({ said, status }).toEqual({ said: "Stopped before all notes were checked.\n", status: 2 });
    expect(cached()).toHaveLength(1);
    expect(cached()[0]).toMatch(/^checks-[0-9a-f]+\.pack$/);
  });

  it.each(["csv", "parquet", "ndjson"])("takes back an export to %s that it stops", async (format) => {
    const before = process.listenerCount("SIGINT");
    const exporting = runIn(notes, ["export", "out", "notes", "--format", format]);
    const look = (): void => {
      const begun = readdirSync(notes).some((name) => name === "out" || name.endsWith(".part"));
      if (begun) process.emit("SIGINT");
      else setImmediate(look);
    };
    look();
    expect(await exporting).toEqual({ status: 2, out: "", err: "Stopped before all notes were written.\n" });
    expect(process.listenerCount("SIGINT")).toBe(before);
    expect(readdirSync(notes).sort()).toEqual([".git", "notes"]);
  });

  it("keeps what was read for the next run, which has the same result as any", async () => {
    const cache = { folder: caches, build: () => "this one" };
    const helpers = { script: join(dist, "worker.js"), from: 1 };
    const whole = await runIn(notes, args);
    rmSync(caches, { recursive: true, force: true });
    const before = process.listenerCount("SIGINT");
    const stopping = runIn(notes, args, { cache, helpers });
    // As a signal would, at the first pause of the work.
    setImmediate(() => process.emit("SIGINT"));
    expect(await stopping).toEqual({ status: 2, out: "", err: SAYS });
    expect(process.listenerCount("SIGINT")).toBe(before);
    for (const name of cached()) expect(readFileSync(join(caches, name)).length).toBeGreaterThan(1000);
    expect(await runIn(notes, args, { cache, helpers })).toEqual(whole);
    expect(await runIn(notes, args, { cache })).toEqual(whole);
    expect(cached()).toHaveLength(1);
  });
});
