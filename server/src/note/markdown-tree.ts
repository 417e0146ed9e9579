import { type ChangedRange, type Tree, TreeFragment } from "@lezer/common";
import { parser as markdown } from "@lezer/markdown";

/** The last text that was parsed, with its tree: what an edit leaves alone is not parsed again. */
export class MarkdownMemo {
  text = "";
  tree: Tree | undefined;
}

/** Below this share of text in common with the last one, starting anew is as good. */
const WORTH_KEEPING = 0.5;

/**
 * The tree of a text in which every line break is LF. A property test holds trees made with a memo to those
 * made without.
 */
export function markdownTree(text: string, memo?: MarkdownMemo): Tree {
  if (!memo) return markdown.parse(text);
  if (memo.tree && memo.text === text) return memo.tree;
  const change = memo.tree && changeBetween(memo.text, text);
  const tree =
    memo.tree && change
      ? markdown.parse(text, TreeFragment.applyChanges(TreeFragment.addTree(memo.tree), [change]))
      : markdown.parse(text);
  memo.text = text;
  memo.tree = tree;
  return tree;
}

/** The one stretch in which two texts differ; undefined where they have little in common. */
function changeBetween(before: string, after: string): ChangedRange | undefined {
  const shorter = Math.min(before.length, after.length);
  let from = 0;
  while (from < shorter && before.charCodeAt(from) === after.charCodeAt(from)) from++;
  let end = 0;
  const most = shorter - from;
  while (
    end < most &&
    before.charCodeAt(before.length - 1 - end) === after.charCodeAt(after.length - 1 - end)
  )
    end++;
  if (from + end < WORTH_KEEPING * after.length) return undefined;
  // Whole lines, since what stands before a block on its line decides what the block is.
  from = from === 0 ? 0 : before.lastIndexOf("\n", from - 1) + 1;
  const lineEnd = after.indexOf("\n", after.length - end);
  end = lineEnd < 0 ? 0 : after.length - lineEnd;
  return { fromA: from, toA: before.length - end, fromB: from, toB: after.length - end };
}

/** In longer lines links are not looked for: the parser's time for brackets grows with the square of their number. */
const LONGEST_LINE = 10_000;

/**
 * The body of a note as the parser wants it, at the same length: line breaks other than LF, which it does not
 * know, become LF, and lines that nobody writes by hand lose their brackets.
 */
export function parseable(text: string): string {
  const body = text.includes("\r") ? text.replace(/\r\n/g, " \n").replace(/\r/g, "\n") : text;
  return hasLongLine(body)
    ? body
        .split("\n")
        .map((line) => (line.length > LONGEST_LINE ? line.replace(/[[\]()]/g, " ") : line))
        .join("\n")
    : body;
}

function hasLongLine(text: string): boolean {
  let from = 0;
  while (text.length - from > LONGEST_LINE) {
    const to = text.lastIndexOf("\n", from + LONGEST_LINE);
    if (to < from) return true;
    from = to + 1;
  }
  return false;
}
