import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type BundleName, makeBundles } from "../../server/build/bundles.mjs";

/** The server's bundles, and those named besides, in a folder of their own; so that no older ones are tested. */
export async function buildBundles(...more: readonly BundleName[]): Promise<string> {
  const folder = join(mkdtempSync(join(tmpdir(), "witness-mark-")), "dist");
  mkdirSync(folder);
  await makeBundles(folder, { names: ["server", "checker", "procedures", "yaml", "markdown", ...more] });
  return folder;
}

export const removeBundles = (folder: string): void =>
  rmSync(join(folder, ".."), { recursive: true, force: true });
