import type { Position, Range as ProtocolRange } from "vscode-languageserver/node";
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
