import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { clientOptions, type Server, serverOf } from "./server.ts";

/** Starts the server as a process beside the editor's. It reads files from the disk by itself. */
export function startServerProcess(context: ExtensionContext): Promise<Server> {
  const module = Uri.joinPath(context.extensionUri, "dist", "server.js").fsPath;
  const client = new LanguageClient(
    "witness-mark",
    "Witness Mark",
    { module, transport: TransportKind.ipc },
    clientOptions(context),
  );
  return serverOf(client, context, ["file"]);
}
