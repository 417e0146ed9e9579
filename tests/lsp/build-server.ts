import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";

const root = join(import.meta.dirname, "../..");

/** Bundles built as `esbuild.mjs` builds them, in a folder of their own. */
export async function buildBundles(entries: Readonly<Record<string, string>>): Promise<string> {
  const folder = join(mkdtempSync(join(tmpdir(), "witness-mark-")), "dist");
  mkdirSync(folder);
  await build({
    absWorkingDir: root,
    entryPoints: Object.entries(entries).map(([out, entry]) => ({ in: entry, out })),
    outdir: folder,
    bundle: true,
    minify: true,
    platform: "node",
    target: "node20",
    format: "cjs",
    mainFields: ["module", "main"],
    legalComments: "none",
    logLevel: "error",
    external: ["vscode", "./yaml.js", "./server.js", "./worker.js"],
  });
  return folder;
}

export const serverEntries = {
  server: "server/src/lsp/main.ts",
  yaml: "server/src/note/yaml-library.ts",
} as const;

export const removeBundles = (folder: string): void =>
  rmSync(join(folder, ".."), { recursive: true, force: true });
