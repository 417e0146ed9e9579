import { type Cell, cellsOf, displayWidth, harmless, hasRightToLeft, isPlain } from "./display-width.ts";

/** A line of a note with a mark under a place in it, ready to be printed. */
export interface MarkedLine {
  readonly source: string;
  /** Blanks, then the mark; to stand right below `source`. */
  readonly mark: string;
  /** The marked words once more, where a terminal may show the line in another order than it is written. */
  readonly words: string;
}

const CUT = "…";

/**
 * Draws a line with a mark below `from`–`to` (UTF-16 columns from 0), no wider than `width` cells. A line
 * that is too wide is cut at both ends so that the start of the mark stays in view.
 */
export function markLine(line: string, from: number, to: number, width: number): MarkedLine {
  // A line of a megabyte need not be measured from its start to show the hundred characters around a place.
  const start = line.length <= 2 * NEAR ? 0 : Math.max(0, from - NEAR);
  const near = line.slice(start, start === 0 && line.length <= 2 * NEAR ? undefined : from + NEAR);
  const first = from - start;
  const last = Math.max(to - start, first + 1);
  if (near.length === line.length && line.length <= width && isPlain(line)) {
    const end = Math.min(last, line.length);
    return { source: line.trimEnd(), mark: " ".repeat(first) + bracket(end - first), words: "" };
  }
  const window = cutTo(cellsOf(near), first, width);
  const cutBefore = window.before || start > 0;
  let source = cutBefore ? CUT : "";
  let indent = cutBefore ? 1 : 0;
  let marked = 0;
  let words = "";
  for (const cell of window.cells) {
    source += cell.shown;
    if (cell.from < last && cell.to > first) {
      marked += cell.width;
      words += cell.shown;
    } else if (cell.to <= first) indent += cell.width;
  }
  if (window.after || start + near.length < line.length) source += CUT;
  return {
    source: source.trimEnd(),
    mark: " ".repeat(indent) + bracket(marked),
    words: hasRightToLeft(line) ? words.trim() : "",
  };
}

const NEAR = 2000;

/** A stroke below the place: closed at both ends, so that its extent is plain to see. */
function bracket(width: number): string {
  if (width <= 1) return "╵";
  return `╰${"─".repeat(width - 2)}╯`;
}

interface Window {
  readonly cells: readonly Cell[];
  readonly before: boolean;
  readonly after: boolean;
}

function cutTo(cells: readonly Cell[], from: number, width: number): Window {
  let total = 0;
  for (const cell of cells) total += cell.width;
  if (total <= width) return { cells, before: false, after: false };
  // A third of the width is kept for what stands before the mark.
  const target = cells.findIndex((cell) => cell.to > from);
  let first = target < 0 ? cells.length : target;
  for (let room = Math.floor(width / 3); first > 0; first--) {
    room -= cells[first - 1]?.width ?? 0;
    if (room < 0) break;
  }
  let last = first;
  for (let room = width - 2; last < cells.length; last++) {
    room -= cells[last]?.width ?? 0;
    if (room < 0) break;
  }
  return { cells: cells.slice(first, last), before: first > 0, after: last < cells.length };
}

/** Breaks a text into lines of at most `width` cells at its blanks. Words that are wider stay whole. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  let used = 0;
  for (const word of harmless(text.replace(/\s+/g, " ")).trim().split(" ")) {
    const needed = displayWidth(word);
    if (line !== "" && used + 1 + needed > width) {
      lines.push(line);
      line = word;
      used = needed;
    } else {
      line = line === "" ? word : `${line} ${word}`;
      used += needed + (used === 0 ? 0 : 1);
    }
  }
  lines.push(line);
  return lines;
}
