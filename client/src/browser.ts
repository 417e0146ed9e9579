import type { ExtensionContext } from "vscode";
import { extend } from "../../server/src/preview/browser.ts";
import { type Activated, start, stop } from "./activate.ts";
import { startServerWorker } from "./server-worker.ts";

/** The extension in a browser: one file, the server in a worker, and files only through the editor. */
export const activate = (context: ExtensionContext): Activated =>
  start(context, { startServer: startServerWorker, loadPreview: () => ({ extend }) });

export const deactivate = (): Promise<void> => stop();
