import { existsSync } from "node:fs";
import { chromiumPath, editorEntryPath, installedStampPath, vsixPath } from "./paths.ts";

/** Says in one sentence what to do when the host tests cannot run, instead of failing in the first hook. */
export default function checkPreconditions(): void {
  if (!existsSync(installedStampPath) || !existsSync(editorEntryPath)) {
    throw new Error(
      "The editor for the host tests is not installed yet: run `bash tests/host/setup.sh` first.",
    );
  }
  if (!existsSync(chromiumPath)) {
    throw new Error(`There is no browser at ${chromiumPath}: run \`bash tests/host/setup.sh\` first.`);
  }
  if (!existsSync(vsixPath)) {
    throw new Error(`There is no packaged extension at ${vsixPath}: run \`npm run package\` first.`);
  }
}
