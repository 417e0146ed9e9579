import { type ExtensionContext, Uri, workspace } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { clientOptions, type Server, serverOf } from "./server.ts";

/** A browser's worker, as far as it is named here; the types of a web page are not those of this project. */
declare const Worker: new (url: string) => ConstructorParameters<typeof LanguageClient>[2];

/** Starts the server in a worker of the browser. It sees no files but those it is told about. */
export async function startServerWorker(context: ExtensionContext): Promise<Server> {
  const script = Uri.joinPath(context.extensionUri, "dist", "browser-server.js");
  const worker = new Worker(await addressOf(script));
  const client = new LanguageClient("witness-mark", "Witness Mark", worker, clientOptions(context));
  return serverOf(client, context, []);
}

/** An address that a worker can be started from. What lies on the far side of a remote window is fetched first. */
async function addressOf(script: Uri): Promise<string> {
  if (/^https?$/.test(script.scheme)) return script.toString(true);
  const bytes = await workspace.fs.readFile(script);
  return URL.createObjectURL(new Blob([Uint8Array.from(bytes)], { type: "text/javascript" }));
}
