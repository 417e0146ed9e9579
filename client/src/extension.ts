import {
  commands,
  type ExtensionContext,
  l10n,
  languages,
  type TextDocument,
  window,
  workspace,
} from "vscode";
import { isJobNoteText } from "./job-note.ts";
import type { Server } from "./server.ts";

let server: Promise<Server> | undefined;

/**
 * Starts nothing by itself: most markdown files are no job notes, and whoever reads those should not pay
 * for a server. The server starts with the first job note that is open, and then stays.
 */
export function activate(context: ExtensionContext): void {
  const start = (): Promise<Server> => {
    server ??= load(context);
    return server;
  };
  const startFor = (document: TextDocument): void => {
    if (server || document.languageId !== "markdown") return;
    // Looking at the first line spares most texts from being copied at every keystroke.
    if (!/^\uFEFF?---/.test(document.lineAt(0).text) || !isJobNoteText(document.getText())) return;
    // The client library tells the user when the server cannot be started.
    start().catch(() => undefined);
  };
  context.subscriptions.push(
    workspace.onDidOpenTextDocument(startFor),
    // An empty file becomes a job note when its front matter is typed.
    workspace.onDidChangeTextDocument(({ document }) => startFor(document)),
    commands.registerCommand("witness-mark.recordResults", async () => {
      const document = window.activeTextEditor?.document;
      if (!document || languages.match({ language: "markdown" }, document) === 0) {
        void window.showInformationMessage(
          l10n.t("Open a job note first; its results are recorded in place."),
        );
        return;
      }
      await (await start()).recordResults(document);
    }),
  );
  for (const document of workspace.textDocuments) startFor(document);
}

export async function deactivate(): Promise<void> {
  // A server that never started needs no stopping.
  await (await server?.catch(() => undefined))?.stop();
}

async function load(context: ExtensionContext): Promise<Server> {
  const { startServer } = await import("./server.ts");
  return startServer(context);
}
