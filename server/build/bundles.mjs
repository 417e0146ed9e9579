// How the bundles are made. What every start needs is in `server.js` and `cli.js`; what only a note needs is in
// `checker.js`, which both load when the first note is there; what only some notes need is in files that the
// checker loads in turn. The tests make theirs from the same list.
import { join } from "node:path";
import { build } from "esbuild";

const root = join(import.meta.dirname, "..", "..");

export const entries = {
  client: "client/src/extension.ts",
  server: "server/src/lsp/main.ts",
  cli: "server/src/cli/main.ts",
  worker: "server/src/cli/worker.ts",
  checker: "server/src/checker.ts",
  procedures: "server/src/procedures/load.ts",
  yaml: "server/src/note/yaml-library.ts",
  markdown: "server/src/note/markdown-library.ts",
  logs: "server/src/host/read-log.ts",
  reporting: "server/src/reporting.ts",
  base: "server/src/cli/base/commands.ts",
  preview: "server/src/preview/bundle.ts",
  sheet: "server/src/sheets.ts",
};

const LAZY_MARKDOWN = "./server/src/host/lazy-markdown.ts";

/**
 * For a browser: the editor there, and the search of a site. Each is one file with all it needs, since nothing
 * can be loaded later there.
 */
export const browserEntries = {
  browser: "client/src/browser.ts",
  "browser-server": "server/src/lsp/browser.ts",
  "site-search": "server/src/report/site/search-browser.ts",
};

/** Makes the bundles for a browser and gives what went into each, by name, as the bundler tells it. */
export async function makeBrowserBundles(outdir, { minify = true } = {}) {
  const made = {};
  for (const [name, entry] of Object.entries(browserEntries)) {
    const { metafile } = await build({
      absWorkingDir: root,
      entryPoints: [{ in: entry, out: name }],
      outdir,
      bundle: true,
      minify,
      // A part of Node that creeps in fails the build here, since a browser has none.
      platform: "browser",
      target: "es2022",
      format: name === "browser" ? "cjs" : "iife",
      mainFields: ["browser", "module", "main"],
      legalComments: "none",
      logLevel: "warning",
      metafile: true,
      external: ["vscode"],
    });
    made[name] = metafile;
  }
  return made;
}

/** Makes bundles in a folder and gives their sizes in bytes, by name. */
export async function makeBundles(outdir, { names = Object.keys(entries), minify = true } = {}) {
  const sizes = {};
  for (const name of names) {
    const result = await build({
      absWorkingDir: root,
      entryPoints: [{ in: entries[name], out: name }],
      outdir,
      bundle: true,
      minify,
      platform: "node",
      target: "node20",
      format: "cjs",
      mainFields: ["module", "main"],
      legalComments: "none",
      logLevel: "warning",
      metafile: true,
      banner: name === "cli" ? { js: "#!/usr/bin/env node" } : {},
      // Bundles that load each other at run time do so by these names.
      external: ["vscode", ...Object.keys(entries).map((entry) => `./${entry}.js`)],
      // The core asks for the parser as for any library; the bundles hand it over when it is first used.
      alias: name === "markdown" ? {} : { "@lezer/markdown": LAZY_MARKDOWN, "@lezer/common": LAZY_MARKDOWN },
    });
    sizes[name] = Object.values(result.metafile.outputs)[0]?.bytes ?? 0;
  }
  return sizes;
}
