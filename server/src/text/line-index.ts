/**
 * Where lines start. Offsets and columns count UTF-16 units, lines count from 0; the adaptors turn them
 * into what their readers count from. Lines end at LF, CRLF or a lone CR, as CommonMark has it.
 */
export interface LineIndex {
  /** Offsets of line starts; the first is 0. */
  readonly starts: readonly number[];
  /** Length of the text. */
  readonly end: number;
}

const LF = 10;
const CR = 13;

export function indexLines(text: string): LineIndex {
  const starts = [0];
  if (text.includes("\r")) {
    for (let i = 0; i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (c === LF || (c === CR && text.charCodeAt(i + 1) !== LF)) starts.push(i + 1);
    }
  } else {
    for (let i = text.indexOf("\n"); i >= 0; i = text.indexOf("\n", i + 1)) starts.push(i + 1);
  }
  return { starts, end: text.length };
}

/** The line that holds an offset, by binary search. */
export function lineAt(index: LineIndex, offset: number): number {
  let low = 0;
  let high = index.starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((index.starts[middle] ?? 0) <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Line and column of an offset, both from 0. */
export function positionAt(index: LineIndex, offset: number): { line: number; column: number } {
  const line = lineAt(index, offset);
  return { line, column: offset - (index.starts[line] ?? 0) };
}

/** Offset of a line and column; columns past the line's end are drawn back to it. */
export function offsetAt(index: LineIndex, text: string, line: number, column: number): number {
  const start = index.starts[Math.min(line, index.starts.length - 1)] ?? 0;
  return Math.min(start + column, lineEnd(index, text, line));
}

/** Offset of the end of a line's content, without its line break. */
export function lineEnd(index: LineIndex, text: string, line: number): number {
  let end = index.starts[line + 1] ?? index.end;
  if (line + 1 < index.starts.length) {
    if (text.charCodeAt(end - 1) === LF) end--;
    if (text.charCodeAt(end - 1) === CR) end--;
  }
  return end;
}
