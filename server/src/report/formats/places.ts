import type { Range } from "../../note/note.ts";
import { positionAt } from "../../text/line-index.ts";
import type { Checked } from "../checked.ts";

/** A place as other programs count it: lines and columns from 1, columns in UTF-16 units, the end after the last. */
export interface Place {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export function placeOf(range: Range, { lines }: Pick<Checked, "lines">): Place {
  const start = positionAt(lines, range.from);
  const end = positionAt(lines, range.to);
  return { line: start.line + 1, column: start.column + 1, endLine: end.line + 1, endColumn: end.column + 1 };
}

/** One line of plain text, without the characters that no XML and no terminal may hold. */
export const onOneLine = (text: string): string =>
  text
    .replace(/\s+/g, " ")
    .replace(/[^\P{C}\p{Cf}]|[\u202a-\u202e\u2066-\u2069\uffff\ufffe]/gu, "\uFFFD")
    .trim();
