import { type LineIndex, lineAt, lineEnd } from "../text/line-index.ts";
import { type MarkdownMemo, markdownTree, parseable } from "./markdown-tree.ts";

/**
 * Finds fenced code blocks as CommonMark has them. A plain scan of line beginnings does for the usual note;
 * as soon as something on the way could change what a fence means (a fence inside a list or quote, an HTML
 * block), the whole text goes to the full CommonMark parser instead. A property test holds the two, and
 * remark, to the same answer.
 */
export interface Fence {
  /** From the opening fence's marks to the end of the closing fence's line, or of the last line. */
  readonly from: number;
  readonly to: number;
  /** The info string, trimmed. */
  readonly infoFrom: number;
  readonly infoTo: number;
  readonly closed: boolean;
  /** How many lines of content, where they begin and end, and the number of the first. */
  readonly count: number;
  readonly firstLine: number;
  readonly contentFrom: number;
  readonly contentTo: number;
  /** Content of each line, without quote marks and list indentation. `line` counts from 0 in the note. */
  readonly lines: readonly { readonly line: number; readonly from: number; readonly to: number }[];
}

const TAB = 9;
const BLANK = 32;
const LESS_THAN = 60;
const GREATER_THAN = 62;
const BACKTICK = 96;
const TILDE = 126;

/** Fences of the text from a line on (the one behind the front matter). */
export function findFences(
  text: string,
  index: LineIndex,
  firstLine: number,
  memo?: MarkdownMemo,
): readonly Fence[] {
  return scanFences(text, index, firstLine) ?? parseFences(text, index, firstLine, memo);
}

/** A line that only the full parser may judge: a fence behind list marks, quote marks or indentation. */
const HIDDEN_FENCE = /^[ \t>*+\-\d.)]+(?:```|~~~)/;
const CLOSED_COMMENT = /^<!--(?!>|->)(?:(?!-->).)*-->[ \t]*$/;

/** The fast way. Undefined when the text needs the full parser. */
export function scanFences(text: string, index: LineIndex, firstLine: number): readonly Fence[] | undefined {
  const fences: Fence[] = [];
  const count = index.starts.length;
  for (let line = firstLine; line < count; line++) {
    const at = index.starts[line] ?? 0;
    const first = text.charCodeAt(at);
    // Nearly every line starts with a letter and can open nothing.
    if (first > GREATER_THAN && first !== BACKTICK && first !== TILDE) continue;
    const end = lineEnd(index, text, line);
    if (at === end) continue;
    if (first === LESS_THAN) {
      // A comment closed on its own line ends right there; any other HTML may swallow what follows.
      if (!CLOSED_COMMENT.test(text.slice(at, end))) return undefined;
    } else if (first === BACKTICK || first === TILDE) {
      const marks = openingMarks(text, at, end, first);
      if (marks === undefined) continue;
      const fence = readBody(text, index, line, marks, first);
      fences.push(fence);
      line += fence.count + (fence.closed ? 1 : 0);
    } else {
      const beginning = text.slice(at, Math.min(end, at + 1000));
      if (HIDDEN_FENCE.test(beginning) || (first === BLANK && /^ {1,3}</.test(beginning))) return undefined;
    }
  }
  return fences;
}

/** Length of the opening run of marks, or undefined when the line opens no fence. */
function openingMarks(text: string, at: number, end: number, mark: number): number | undefined {
  let to = at;
  while (to < end && text.charCodeAt(to) === mark) to++;
  if (to - at < 3) return undefined;
  if (mark === BACKTICK) {
    const tick = text.indexOf("`", to);
    if (tick >= 0 && tick < end) return undefined;
  }
  return to - at;
}

function readBody(text: string, index: LineIndex, openLine: number, marks: number, mark: number): Fence {
  const from = index.starts[openLine] ?? 0;
  const info = trimmed(text, from + marks, lineEnd(index, text, openLine));
  const count = index.starts.length;
  let line = openLine + 1;
  for (; line < count; line++) {
    const at = index.starts[line] ?? 0;
    // Nearly every line starts with a letter and can close nothing.
    const first = text.charCodeAt(at);
    if (first !== mark && first !== BLANK) continue;
    if (closes(text, at, lineEnd(index, text, line), marks, mark)) break;
  }
  const closed = line < count;
  // What follows the last line break is no line of its own.
  const end = !closed && (index.starts[count - 1] ?? 0) >= index.end ? count - 1 : line;
  return new MarginFence(text, index, openLine, Math.max(end, openLine + 1), closed, info);
}

/** A fence at the margin. Its lines are told only when somebody asks: most blocks stay as they were read. */
class MarginFence implements Fence {
  readonly from: number;
  readonly to: number;
  readonly infoFrom: number;
  readonly infoTo: number;
  #lines: Fence["lines"] | undefined;

  constructor(
    private readonly text: string,
    private readonly index: LineIndex,
    private readonly openLine: number,
    /** The line behind the last one of the content. */
    private readonly endLine: number,
    readonly closed: boolean,
    info: { readonly from: number; readonly to: number },
  ) {
    this.from = index.starts[openLine] ?? 0;
    this.to = lineEnd(index, text, closed ? endLine : Math.max(openLine, endLine - 1));
    this.infoFrom = info.from;
    this.infoTo = info.to;
  }

  get count(): number {
    return this.endLine - this.openLine - 1;
  }

  get firstLine(): number {
    return this.openLine + 1;
  }

  get contentFrom(): number {
    return this.index.starts[this.openLine + 1] ?? this.index.end;
  }

  get contentTo(): number {
    return this.count === 0 ? this.contentFrom : lineEnd(this.index, this.text, this.endLine - 1);
  }

  get lines(): Fence["lines"] {
    if (this.#lines === undefined) {
      const lines: { line: number; from: number; to: number }[] = [];
      for (let line = this.openLine + 1; line < this.endLine; line++) {
        const from = this.index.starts[line] ?? 0;
        lines.push({ line, from, to: lineEnd(this.index, this.text, line) });
      }
      this.#lines = lines;
    }
    return this.#lines;
  }
}

function closes(text: string, at: number, end: number, marks: number, mark: number): boolean {
  let to = at;
  while (to < end && to - at < 3 && text.charCodeAt(to) === BLANK) to++;
  const from = to;
  while (to < end && text.charCodeAt(to) === mark) to++;
  if (to - from < marks) return false;
  while (to < end && (text.charCodeAt(to) === BLANK || text.charCodeAt(to) === TAB)) to++;
  return to === end;
}

function trimmed(text: string, from: number, to: number): { from: number; to: number } {
  const slice = text.slice(from, to);
  const start = from + slice.length - slice.trimStart().length;
  return { from: start, to: Math.max(start, from + slice.trimEnd().length) };
}

/** Blocks that hold no other blocks. */
const LEAF = new Set(["Paragraph", "HTMLBlock", "CodeBlock", "LinkReference"]);

/** The full way: the CommonMark parser's own tree. */
export function parseFences(
  text: string,
  index: LineIndex,
  firstLine: number,
  memo?: MarkdownMemo,
): readonly Fence[] {
  const start = index.starts[firstLine] ?? index.end;
  const fences: Fence[] = [];
  markdownTree(parseable(text.slice(start)), memo).iterate({
    enter: (node) => {
      if (node.name !== "FencedCode") return !LEAF.has(node.name);
      const marks = node.node.getChildren("CodeMark");
      const opening = marks[0];
      if (!opening) return false;
      const closing = marks.length > 1 ? marks[marks.length - 1] : undefined;
      const pieces = node.node
        .getChildren("CodeText")
        .map((n) => ({ from: start + n.from, to: start + n.to }));
      const from = start + opening.from;
      const openLine = lineAt(index, from);
      const openEnd = lineEnd(index, text, openLine);
      const lastLine = lineAt(
        index,
        Math.max(from, start + (closing ? closing.from : node.to) - (closing ? 0 : 1)),
      );
      const lines = contentLines(text, index, openLine + 1, closing ? lastLine - 1 : lastLine, pieces);
      const info = trimmed(text, start + opening.to, openEnd);
      const to = closing ? lineEnd(index, text, lastLine) : (lines[lines.length - 1]?.to ?? openEnd);
      fences.push({
        from,
        to,
        infoFrom: info.from,
        infoTo: info.to,
        closed: closing !== undefined,
        count: lines.length,
        firstLine: openLine + 1,
        contentFrom: lines[0]?.from ?? openEnd,
        contentTo: lines[lines.length - 1]?.to ?? openEnd,
        lines,
      });
      return false;
    },
  });
  return fences;
}

/** Each line's content begins where its code text begins; a line without any is blank inside the fence. */
function contentLines(
  text: string,
  index: LineIndex,
  first: number,
  last: number,
  pieces: readonly { from: number; to: number }[],
): Fence["lines"] {
  const lines: { line: number; from: number; to: number }[] = [];
  let piece = 0;
  for (let line = first; line <= last; line++) {
    const at = index.starts[line] ?? 0;
    const end = lineEnd(index, text, line);
    while (piece < pieces.length && (pieces[piece]?.to ?? 0) <= at) piece++;
    const here = pieces[piece];
    lines.push({ line, from: here && here.from < end ? Math.max(at, here.from) : end, to: end });
  }
  return lines;
}
