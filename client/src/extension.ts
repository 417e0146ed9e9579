import type { ExtensionContext } from "vscode";
import { type Activated, start, stop } from "./activate.ts";
import { checkTasks } from "./check-tasks.ts";
import type { Preview } from "./job-sheet.ts";
import type { StartServer } from "./server.ts";

const startServer: StartServer = async (context) => {
  const { startServerProcess } = await import("./server-process.ts");
  return startServerProcess(context);
};

const loadPreview = (): Preview => {
  const loaded: typeof import("../../server/src/preview/bundle.ts") = require("./preview.js");
  return loaded;
};

/** The extension on a desktop, or on the far side of a remote window: the server is a process of its own. */
export function activate(context: ExtensionContext): Activated {
  const activated = start(context, { startServer, loadPreview });
  context.subscriptions.push(checkTasks(context));
  return activated;
}

export const deactivate = (): Promise<void> => stop();
