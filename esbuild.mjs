// Builds the bundles. Each is one file; the full YAML library is a file of its own that is loaded only when
// a text needs it, so that the server and the command line start fast.
import { build } from "esbuild";

const watch = process.argv.includes("--watch");
const shared = {
  bundle: true,
  minify: !watch,
  platform: "node",
  target: "node20",
  format: "cjs",
  mainFields: ["module", "main"],
  legalComments: "none",
  logLevel: "warning",
  metafile: true,
  // Bundles that load each other at run time do so by these names.
  external: ["vscode", "./yaml.js", "./server.js", "./worker.js"],
};

const entries = {
  client: "client/src/extension.ts",
  server: "server/src/lsp/main.ts",
  cli: "server/src/cli/main.ts",
  worker: "server/src/cli/worker.ts",
  yaml: "server/src/note/yaml-library.ts",
};

const only = process.argv.slice(2).filter((a) => !a.startsWith("--"));
for (const [name, entry] of Object.entries(entries)) {
  if (only.length > 0 && !only.includes(name)) continue;
  const banner = name === "cli" ? { js: "#!/usr/bin/env node" } : {};
  const result = await build({ ...shared, entryPoints: [entry], outfile: `dist/${name}.js`, banner });
  const bytes = Object.values(result.metafile.outputs)[0]?.bytes ?? 0;
  if (!process.argv.includes("--quiet")) console.log(`dist/${name}.js  ${(bytes / 1024).toFixed(0)} KiB`);
}
