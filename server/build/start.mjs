// What `npm start` runs: builds, checks the samples with their derived values, and says how to open them in
// the editor. Findings in the samples are the point of it, so they do not make the command fail.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";

const root = join(import.meta.dirname, "..", "..");
const run = (args) => spawnSync(process.execPath, args, { cwd: root, stdio: "inherit" }).status ?? 2;

if (run(["esbuild.mjs", "--quiet"]) !== 0) process.exit(2);
const status = run([join("dist", "cli.js"), "check", "samples", "--values"]);
if (status > 1) process.exit(status);

const editor = existsSync(join(root, "witness-mark.vsix")) ? "" : "  npm run package\n";
console.log(`
These are invented jobs; the notes of the apprentice hold mistakes on purpose.

To see the same in the editor (VS Code 1.100 or newer):
${editor}  code --install-extension witness-mark.vsix
  code samples

On notes of your own:
  npx witness-mark check path/to/notes`);
