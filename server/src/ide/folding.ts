import type { Note } from "../note/note.ts";
import { sectionsOf } from "../note/prose-outline.ts";
import { lineAt } from "../text/line-index.ts";

/** Lines that can be drawn together; both from 0, the first stays in view. */
export interface Fold {
  readonly from: number;
  readonly to: number;
}

/** The front matter, the blocks, and what stands under each heading. */
export function folds(note: Note): readonly Fold[] {
  const ranges = [
    ...(note.frontMatter.present ? [note.frontMatter.range] : []),
    ...note.blocks.map(({ range }) => range),
    ...sectionsOf(note).map(({ range }) => range),
  ];
  return ranges
    .map(({ from, to }) => ({ from: lineAt(note.lines, from), to: lineAt(note.lines, to) }))
    .filter(({ from, to }) => to > from)
    .sort((a, b) => a.from - b.from || b.to - a.to);
}
