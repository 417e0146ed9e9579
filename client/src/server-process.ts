import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { clientOptions, type Server, serverOf } from "./server.ts";

/**
 * Room for what is new, in megabytes. Of a keystroke little outlives the next one, so a small room costs no time,
 * and left alone it would grow to half of all the memory that the server takes.
 */
const SMALL_NURSERY = "--max-semi-space-size=1";

/** Starts the server as a process beside the editor's. It reads files from the disk by itself. */
export function startServerProcess(context: ExtensionContext): Promise<Server> {
  const module = Uri.joinPath(context.extensionUri, "dist", "server.js").fsPath;
  const client = new LanguageClient(
    "witness-mark",
    "Witness Mark",
    { module, transport: TransportKind.ipc, options: { execArgv: [SMALL_NURSERY] } },
    clientOptions(context),
  );
  return serverOf(client, context, ["file"]);
}
