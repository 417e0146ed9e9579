import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type BundleName, entries, makeBundles } from "../../server/build/bundles.mjs";

/** What is started by somebody; all other bundles are loaded by these. */
const STARTED: ReadonlySet<string> = new Set(["client", "server", "cli", "worker", "preview"]);
const late = (Object.keys(entries) as BundleName[]).filter((name) => !STARTED.has(name));

/** Bundles in a folder, with all that they load, so that no older ones are tested. */
export const makeWithLate = (folder: string, ...started: readonly BundleName[]) =>
  makeBundles(folder, { names: [...started, ...late] });

/** The server's bundles, and those named besides, in a folder of their own. */
export async function buildBundles(...more: readonly BundleName[]): Promise<string> {
  const folder = join(mkdtempSync(join(tmpdir(), "witness-mark-")), "dist");
  mkdirSync(folder);
  await makeWithLate(folder, "server", ...more);
  return folder;
}

export const removeBundles = (folder: string): void =>
  rmSync(join(folder, ".."), { recursive: true, force: true });
