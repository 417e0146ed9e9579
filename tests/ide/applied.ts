import type { TextEdit } from "../../server/src/analysis/analysis.ts";

/** A text with edits made; they must not overlap. */
export function applied(text: string, edits: readonly TextEdit[]): string {
  let made = "";
  let at = 0;
  for (const { range, text: put } of [...edits].sort((a, b) => a.range.from - b.range.from)) {
    if (range.from < at) throw new Error("edits overlap");
    made += text.slice(at, range.from) + put;
    at = range.to;
  }
  return made + text.slice(at);
}
