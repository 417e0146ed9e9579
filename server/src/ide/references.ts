import type { Analysis } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import { mentionAt, mentionsLike } from "./mentions.ts";

/** Every mention of the thing under the cursor in this note. */
export function referencesAt(analysis: Analysis, offset: number, withDefinition: boolean): readonly Range[] {
  const mention = mentionAt(analysis, offset);
  if (!mention) return [];
  return mentionsLike(analysis, mention)
    .filter(({ defines }) => withDefinition || !defines)
    .map(({ range }) => range);
}

export interface Highlight {
  readonly range: Range;
  /** `written` where it gets its value, `read` where it is used. */
  readonly kind: "written" | "read";
}

export function highlightsAt(analysis: Analysis, offset: number): readonly Highlight[] {
  const mention = mentionAt(analysis, offset);
  if (!mention) return [];
  return mentionsLike(analysis, mention).map(({ range, kind, defines }) => ({
    range,
    kind: defines && kind === "reading" ? "written" : "read",
  }));
}
