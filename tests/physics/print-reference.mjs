// Prints every reference row with what the project's own code gives for it, and ends with status 1 when one
// differs. Run by `npm run check:reference`.
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

const root = join(import.meta.dirname, "..", "..");
const bundle = join(root, ".cache", "reference.mjs");
await build({
  stdin: {
    contents: `
      export { checkReference } from "./tests/physics/reference-rows.ts";
      export { referenceTable } from "./tests/physics/reference/table.ts";
    `,
    resolveDir: root,
    loader: "ts",
  },
  bundle: true,
  platform: "node",
  format: "esm",
  target: "node20",
  outfile: bundle,
  logLevel: "warning",
  banner: {
    js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);',
  },
});
const { checkReference, referenceTable } = await import(pathToFileURL(bundle).href);
const checked = checkReference();
console.log(referenceTable(checked));
if (checked.some((row) => row.status === "differs")) process.exitCode = 1;
