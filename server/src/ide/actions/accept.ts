import type { Finding, TextEdit } from "../../analysis/analysis.ts";
import type { Note } from "../../note/note.ts";
import { lineOf } from "../locate.ts";

/**
 * The edit that prepares to accept a finding: the words are there, and the reason is left for a person to
 * write, since an accept without one accepts nothing. On the line itself where it has no comment yet, else
 * before the block, which then accepts the rule for all its lines. Undefined where a note cannot accept.
 */
export function acceptEdit(note: Note, { rule, range }: Finding): TextEdit | undefined {
  if (rule.startsWith("accept/")) return undefined;
  const line = lineOf(note, range.from);
  if (!line) return undefined;
  const { placed, block } = line;
  if (!placed.syntax.comment) {
    const written = note.text.slice(placed.offset, placed.offset + placed.length);
    const to = placed.offset + placed.length;
    return { range: { from: placed.offset + written.trimEnd().length, to }, text: `  # accept ${rule}: ` };
  }
  const { from } = block.range;
  const atMargin = from > 0 && /[\r\n]/.test(note.text.charAt(from - 1));
  return atMargin
    ? { range: { from, to: from }, text: `<!-- accept ${rule}:  -->${lineEndOf(note)}` }
    : undefined;
}

/** The line break that the note uses. */
export const lineEndOf = ({ text }: Note): string => (text.includes("\r\n") ? "\r\n" : "\n");
