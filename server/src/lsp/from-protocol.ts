import type {
  Position,
  Range as ProtocolRange,
  TextDocumentContentChangeEvent,
} from "vscode-languageserver-protocol";
import { TextDocument } from "vscode-languageserver-textdocument";
import type { Note, Range } from "../note/note.ts";
import { offsetAt } from "../text/line-index.ts";

/** Turns the protocol's positions into offsets. A place past a line's end is drawn back to it. */
export function fromPosition(note: Note, position: Position): number {
  if (position.line >= note.lines.starts.length) return note.lines.end;
  return offsetAt(note.lines, note.text, Math.max(0, position.line), Math.max(0, position.character));
}

export function fromRange(note: Note, range: ProtocolRange): Range {
  const from = fromPosition(note, range.start);
  const to = fromPosition(note, range.end);
  return from <= to ? { from, to } : { from: to, to: from };
}

/** An open text as the editor holds it. */
export class OpenText {
  readonly uri: string;
  #document: TextDocument;

  constructor(uri: string, version: number, text: string) {
    this.uri = uri;
    this.#document = TextDocument.create(uri, "markdown", version, text);
  }

  get version(): number {
    return this.#document.version;
  }

  get text(): string {
    return this.#document.getText();
  }

  /** Applies changes in the order in which they were made. */
  change(changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    this.#document = TextDocument.update(this.#document, [...changes], version);
  }
}
