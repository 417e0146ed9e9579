// Writes the job sheet's style for the editor's preview from the one that the command line puts into its pages.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";

const root = join(import.meta.dirname, "..", "..");
const { outputFiles } = await build({
  absWorkingDir: root,
  entryPoints: ["server/src/report/sheet/sheet-style.ts"],
  bundle: true,
  format: "esm",
  write: false,
});
const { SHEET_STYLE } = await import(`data:text/javascript,${encodeURIComponent(outputFiles[0].text)}`);
const head =
  "/* Made by server/build/generate-sheet-style.mjs; change server/src/report/sheet/sheet-style.ts instead. */\n";
writeFileSync(join(root, "client", "media", "job-sheet.css"), head + SHEET_STYLE);
