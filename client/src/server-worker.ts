import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { clientOptions, type Server, serverOf } from "./server.ts";

/** A browser's worker, as far as it is named here; the types of a web page are not those of this project. */
declare const Worker: new (url: string) => ConstructorParameters<typeof LanguageClient>[3];

/** Starts the server in a worker of the browser. It sees no files but those it is told about. */
export function startServerWorker(context: ExtensionContext): Promise<Server> {
  const script = Uri.joinPath(context.extensionUri, "dist", "browser-server.js").toString(true);
  const client = new LanguageClient(
    "witness-mark",
    "Witness Mark",
    clientOptions(context),
    new Worker(script),
  );
  return serverOf(client, context, []);
}
