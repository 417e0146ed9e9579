import { BLOCK_KINDS } from "../../../../grammar/line-language.ts";
import { findFences } from "../../note/fences.ts";
import type { Note } from "../../note/note.ts";
import { lineAt } from "../../text/line-index.ts";
import type { Completion } from "./place.ts";

const SAYS: Readonly<Record<(typeof BLOCK_KINDS)[number], string>> = {
  readings: "what was measured and what follows from it",
  series: "a table logged over time",
  limits: "what must hold on this job",
  steps: "what was done, in order",
};

const OPENING = /^[ \t>*+\-\d.)]*(?:`{3,}|~{3,})[ \t]*([a-z]*)$/;

/** Info words on a line that opens a fence. `inBlock` is true where one of our blocks holds the cursor. */
export function completeFence(note: Note, offset: number, inBlock: boolean): Completion[] {
  const line = lineAt(note.lines, offset);
  const start = note.lines.starts[line] ?? 0;
  const opening = OPENING.exec(note.text.slice(start, offset));
  if (!opening) return [];
  // A line that closes a fence takes no word.
  const body = note.frontMatter.present ? lineAt(note.lines, note.frontMatter.range.to) + 1 : 0;
  const within = findFences(note.text, note.lines, body).find((f) => f.from <= offset && offset <= f.to);
  if (within ? lineAt(note.lines, within.from) !== line : inBlock) return [];
  const from = offset - (opening[1] ?? "").length;
  return BLOCK_KINDS.map((kind) => ({
    label: kind,
    kind: "block",
    text: kind === "series" ? "series " : kind,
    replaces: { from, to: offset },
    detail: SAYS[kind],
  }));
}
