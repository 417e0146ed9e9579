import { FileType, Uri, workspace } from "vscode";
import { isJobNoteText } from "./job-note.ts";
import type { HandedNotes } from "./server.ts";
import type { ShopTexts } from "./shop-texts.ts";

/** A list of more would help nobody; the command line is for whole archives. */
const MOST_NOTES = 5000;
const MOST_FOLDERS = 1000;

/**
 * Notes for a server that cannot read them: in a browser, or on a virtual file system. They are read through
 * the editor, and each folder's shop file goes ahead of its notes.
 *
 * @param reads schemes whose files the server reads by itself
 */
export const handedNotes = (reads: ReadonlySet<string>, shops: ShopTexts): HandedNotes => ({
  async list() {
    const notes: Uri[] = [];
    const folders = (workspace.workspaceFolders ?? []).map(({ uri }) => uri);
    const waiting = folders.filter(({ scheme }) => !reads.has(scheme));
    // Searching through the editor needs a search that not every virtual file system has.
    for (let looked = 0; looked < MOST_FOLDERS; looked++) {
      const folder = waiting.shift();
      if (folder === undefined || notes.length >= MOST_NOTES) break;
      for (const [name, type] of await entriesOf(folder)) {
        const uri = Uri.joinPath(folder, name);
        if ((type & FileType.Directory) !== 0) {
          // Links between folders may lead in a circle.
          const passed = name.startsWith(".") || name === "node_modules" || type !== FileType.Directory;
          if (!passed) waiting.push(uri);
        } else if (/\.(?:md|markdown)$/i.test(name)) notes.push(uri);
      }
    }
    return notes.slice(0, MOST_NOTES);
  },
  async text(uri) {
    try {
      const text = new TextDecoder().decode(await workspace.fs.readFile(uri));
      // Other markdown is not worth sending; that it is none is enough to know.
      if (!isJobNoteText(text)) return "";
      await shops.tellBefore(uri);
      return text;
    } catch {
      // Gone meanwhile, or not to be read.
      return undefined;
    }
  },
});

async function entriesOf(folder: Uri): Promise<readonly [string, FileType][]> {
  try {
    return await workspace.fs.readDirectory(folder);
  } catch {
    // A folder that may not be looked into has no notes for us.
    return [];
  }
}
