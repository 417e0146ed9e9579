// Writes the rule reference (grammar/rules/) and the function reference (grammar/FUNCTIONS.md) from the rules
// and entries themselves. Run by `npm run generate`; CI runs it and wants no difference.
import { mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

const root = join(import.meta.dirname, "..", "..");
const bundle = join(root, ".cache", "pages.mjs");
await build({
  stdin: {
    contents: `
      export { rules } from "./server/src/rules/registry.ts";
      export { pages } from "./server/src/rules/pages.ts";
      export { formulaFunctions } from "./server/src/physics/registry.ts";
      export { rulePage, ruleIndex } from "./server/src/report/rule-page.ts";
      export { functionReference } from "./server/src/report/function-page.ts";
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
});
const { rules, pages, formulaFunctions, rulePage, ruleIndex, functionReference } = await import(
  pathToFileURL(bundle).href
);

const folder = join(root, "grammar", "rules");
mkdirSync(folder, { recursive: true });
for (const old of readdirSync(folder)) rmSync(join(folder, old));
for (const rule of rules) {
  const page = pages.get(rule.id);
  if (!page) throw new Error(`The rule ${rule.id} has no page.`);
  writeFileSync(join(folder, `${rule.id.replace("/", "-")}.md`), rulePage(rule, page));
}
writeFileSync(join(folder, "README.md"), ruleIndex(rules, pages));
writeFileSync(join(root, "grammar", "FUNCTIONS.md"), functionReference(formulaFunctions));
console.log(`${rules.length} rule pages, ${formulaFunctions.length} functions`);
