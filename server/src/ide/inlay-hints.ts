import type { Analysis, NamedValue } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import { lineOf } from "./locate.ts";

/** Text drawn between the characters of a note, which is not part of it. */
export interface Hint {
  readonly at: number;
  readonly text: string;
  /** The value it speaks about, for the tooltip with the working. */
  readonly value: NamedValue;
}

/**
 * Hints for the values that stand in a range. A derived value shows what its formula gives; where a result
 * is recorded and still true, only the uncertainty is added, since the number already stands there.
 * Repeated readings show their mean.
 */
export function inlayHints(analysis: Analysis, range: Range): Hint[] {
  const hints: Hint[] = [];
  for (const value of analysis.valuesIn(range)) {
    if (value.lineRange.to < range.from) continue;
    if (value.lineRange.from > range.to) break;
    const hint = hintFor(analysis, value);
    if (hint) hints.push(hint);
  }
  return hints;
}

function hintFor(analysis: Analysis, value: NamedValue): Hint | undefined {
  const shown = value.shown;
  if (!shown) return undefined;
  const line = lineOf(analysis.note, value.lineRange.from);
  if (line?.kind === "readings" && line.placed.syntax.kind === "measured") {
    const measured = line.placed.syntax.value;
    if (measured.kind !== "number" || measured.numbers.length < 2 || shown.kind !== "quantity")
      return undefined;
    return { at: value.hintAt, text: `mean ${shown.text}`, value };
  }
  if (value.kind !== "derived") return undefined;
  const recorded =
    line?.kind === "readings" && line.placed.syntax.kind === "formula"
      ? line.placed.syntax.recorded
      : undefined;
  if (!line || !recorded || isStale(analysis, value))
    return { at: value.hintAt, text: `≈ ${shown.text}`, value };
  const uncertainty = shown.text.indexOf(" ± ");
  if (uncertainty < 0) return undefined;
  return { at: line.placed.offset + recorded.span.to, text: shown.text.slice(uncertainty + 1), value };
}

const isStale = (analysis: Analysis, value: NamedValue): boolean =>
  analysis.findings.some(
    (finding) =>
      finding.rule === "reading/stale-result" &&
      finding.range.from >= value.lineRange.from &&
      finding.range.to <= value.lineRange.to,
  );
