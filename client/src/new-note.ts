import { FileType, l10n, type QuickPickItem, SnippetString, Uri, window, workspace } from "vscode";
import type { OfferedProcedure } from "../../server/src/lsp/own-messages.ts";
import type { Server } from "./server.ts";

interface Choice extends QuickPickItem {
  readonly procedure: OfferedProcedure;
}

/** Asks for a procedure and a job number, and opens a note of that name with gaps to fill by Tab. */
export async function makeNote(server: Server): Promise<void> {
  const folder = await folderForNotes();
  const near = folder && Uri.joinPath(folder, "note.md");
  const choices: Choice[] = (await server.procedures(near)).map((procedure) => ({
    label: procedure.title,
    description: procedure.id,
    detail: procedure.covers,
    procedure,
  }));
  const choice = await window.showQuickPick(choices, {
    title: l10n.t("New job note (1 of 2)"),
    placeHolder: l10n.t("What kind of job is it?"),
    matchOnDescription: true,
    matchOnDetail: true,
  });
  if (!choice) return;
  const job = await window.showInputBox({
    title: l10n.t("New job note (2 of 2)"),
    prompt: l10n.t("Job number; the file takes its name from it"),
    validateInput: (typed) => problemWith(typed, folder),
  });
  if (job === undefined) return;
  const number = job.trim();
  const snippet = await server.newNote(near, { procedure: choice.procedure.id, job: number, date: today() });
  if (snippet === null) {
    void window.showErrorMessage(l10n.t("The procedure {0} is no longer there.", choice.procedure.id));
    return;
  }
  // Not on the disk yet: the first save puts it there, under this name.
  const document = folder
    ? await workspace.openTextDocument(Uri.joinPath(folder, `${number}.md`).with({ scheme: "untitled" }))
    : await workspace.openTextDocument({ language: "markdown" });
  const editor = await window.showTextDocument(document);
  await editor.insertSnippet(new SnippetString(snippet));
}

/** The folder of the note at hand, else the only folder that is open, else the one that is picked. */
async function folderForNotes(): Promise<Uri | undefined> {
  const document = window.activeTextEditor?.document;
  if (document?.languageId === "markdown" && workspace.getWorkspaceFolder(document.uri))
    return Uri.joinPath(document.uri, "..");
  const folders = workspace.workspaceFolders ?? [];
  if (folders.length < 2) return folders[0]?.uri;
  return (await window.showWorkspaceFolderPick())?.uri;
}

async function problemWith(typed: string, folder: Uri | undefined): Promise<string | undefined> {
  const number = typed.trim();
  if (number === "") return l10n.t("Type the job's number, such as 2031-0042.");
  if (/[\\/:*?"<>|]|^\.|\.$/.test(number) || /\p{Cc}/u.test(number))
    return l10n.t(
      "A file cannot have this name. Leave out slashes, colons, quotes, * ? < > | and dots at the ends.",
    );
  if (folder && (await isFile(Uri.joinPath(folder, `${number}.md`))))
    return l10n.t("A note of this name is there already.");
  return undefined;
}

async function isFile(uri: Uri): Promise<boolean> {
  try {
    return (await workspace.fs.stat(uri)).type === FileType.File;
  } catch {
    // Not there, which is what is hoped for.
    return false;
  }
}

/** Today by the technician's own clock and calendar. */
function today(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
