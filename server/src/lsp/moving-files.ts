import type { RenameFilesParams, TextDocumentEdit, WorkspaceEdit } from "vscode-languageserver/node";
import type { Libraries } from "../host/libraries.ts";
import { type Moved, movedLinks } from "../ide/moved-links.ts";
import type { Note } from "../note/note.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import type { Files } from "./files.ts";
import type { Session } from "./session.ts";
import { toEdits } from "./to-protocol.ts";

/** Keeps the links of all notes true while files are renamed or moved in the editor. */
export class MovingFiles {
  constructor(
    private readonly session: Session,
    private readonly libraries: Libraries,
    private readonly files: Files,
    private readonly open: () => readonly string[],
    private readonly folders: () => readonly string[],
  ) {}

  willRename({ files }: RenameFilesParams): WorkspaceEdit | null {
    const moved: Moved = (uri) => {
      for (const { oldUri, newUri } of files) {
        if (uri === oldUri) return newUri;
        if (uri.startsWith(`${oldUri}/`)) return newUri + uri.slice(oldUri.length);
      }
      return undefined;
    };
    const documentChanges: TextDocumentEdit[] = [];
    for (const uri of new Set([...this.files.markdownIn(this.folders()), ...this.open()])) {
      const found = this.#note(uri);
      const edits = found ? movedLinks(found.note, uri, moved) : [];
      if (!found || edits.length === 0) continue;
      const { note, version } = found;
      documentChanges.push({ textDocument: { uri, version }, edits: toEdits(note.lines, edits) });
    }
    return documentChanges.length > 0 ? { documentChanges } : null;
  }

  #note(uri: string): { note: Note; version: number | null } | undefined {
    const open = this.session.checked(uri);
    if (open) return { note: open.analysis.note, version: open.target.version };
    const text = this.files.text(uri);
    if (!text?.startsWith("---")) return undefined;
    const note = readNote(text, this.libraries.yaml);
    return isJobNote(note) ? { note, version: null } : undefined;
  }
}
