import type { Analysis } from "../analysis/analysis.ts";
import { lineEnd } from "../text/line-index.ts";

/**
 * The note's own text with what follows from it behind each line: the result of a formula, the mean of
 * repeated readings, the verdict on a limit. Made to be compared line by line, so nothing is aligned and
 * every line depends on its own values alone.
 */
export function valuesInText(analysis: Analysis): string {
  const { note } = analysis;
  const says = new Map<number, string>();
  for (const { line, kind, shown } of analysis.values) {
    if (kind === "derived") says.set(line, shown?.text ?? "cannot be worked out");
  }
  const shownAt = new Map(analysis.values.map(({ line, shown }) => [line, shown]));
  for (const block of note.blocks) {
    if (block.kind !== "readings") continue;
    for (const { line, syntax } of block.lines) {
      const repeated =
        syntax.kind === "measured" && syntax.value.kind === "number" && syntax.value.numbers.length > 1;
      const text = shownAt.get(line)?.text;
      if (repeated && text !== undefined) says.set(line, `mean ${text}`);
    }
  }
  for (const { placed, verdict } of analysis.limits) {
    const before = says.get(placed.line);
    says.set(placed.line, before === undefined ? verdict : `${before}, ${verdict}`);
  }
  let out = "";
  let at = 0;
  for (const [line, text] of [...says].sort(([a], [b]) => a - b)) {
    const end = lineEnd(note.lines, note.text, line);
    out += `${note.text.slice(at, end)}   → ${text}`;
    at = end;
  }
  return out + note.text.slice(at);
}
