import { type ExtensionContext, l10n, type TextDocument, window, workspace } from "vscode";
import { attentionView } from "./attention.ts";
import { registerCommands } from "./commands.ts";
import { registerFinding } from "./finding.ts";
import { handedNotes } from "./handed-notes.ts";
import { isJobNoteText } from "./job-note.ts";
import { jobSheets, type Preview } from "./job-sheet.ts";
import type { Server, StartServer } from "./server.ts";
import { ShopTexts } from "./shop-texts.ts";
import { noteStatus } from "./status-bar.ts";

/** What is not the same on a desktop and in a browser. */
export interface Host {
  readonly startServer: StartServer;
  readonly loadPreview: () => Preview;
}

/** What the built-in markdown preview asks of an extension. */
export interface Activated {
  extendMarkdownIt<M>(md: M): M;
}

let server: Promise<Server> | undefined;

/**
 * Starts nothing by itself: most markdown files are no job notes, and whoever reads those should not pay
 * for a server. The server starts with the first job note that is open, and then stays.
 */
export function start(context: ExtensionContext, host: Host): Activated {
  const log = window.createOutputChannel("Witness Mark", { log: true });
  const shops = new ShopTexts();
  const status = noteStatus();
  const ready = (): Promise<Server> => {
    server ??= host.startServer(context).then((started) => {
      status.follow(started);
      shops.tell(started);
      started.handNotes(handedNotes(started.reads, shops));
      return started;
    });
    return server;
  };
  const startFor = (document: TextDocument): void => {
    if (server || document.languageId !== "markdown") return;
    // Looking at the first line spares most texts from being copied at every keystroke.
    if (!/^\uFEFF?---/.test(document.lineAt(0).text) || !isJobNoteText(document.getText())) return;
    ready().catch((fault: unknown) => log.error(l10n.t("The checker could not be started."), fault));
  };
  const sheets = jobSheets(host.loadPreview, shops, log);
  context.subscriptions.push(
    log,
    shops,
    status,
    attentionView(ready),
    sheets,
    ...registerCommands(ready, sheets.show),
    ...registerFinding(ready, context.workspaceState, log),
    workspace.onDidOpenTextDocument(startFor),
    // An empty file becomes a job note when its front matter is typed.
    workspace.onDidChangeTextDocument(({ document }) => startFor(document)),
  );
  for (const document of workspace.textDocuments) startFor(document);
  return { extendMarkdownIt: sheets.extend };
}

export async function stop(): Promise<void> {
  // A server that never started needs no stopping.
  await (await server?.catch(() => undefined))?.stop();
}
