// Writes the highlighting grammar that `highlighting.ts` makes from the declared line language.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const here = fileURLToPath(new URL(".", import.meta.url));
const folder = await mkdtemp(join(tmpdir(), "witness-mark-"));
const outfile = join(folder, "highlighting.mjs");
await build({ entryPoints: [join(here, "highlighting.ts")], bundle: true, format: "esm", outfile });
const { injectionGrammar } = await import(pathToFileURL(outfile).href);
await rm(folder, { recursive: true });
await writeFile(
  join(here, "witness-mark.injection.tmLanguage.json"),
  `${JSON.stringify(injectionGrammar, null, 2)}\n`,
);
