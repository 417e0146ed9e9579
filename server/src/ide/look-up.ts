import type { Analysis, NamedValue } from "../analysis/analysis.ts";
import type { Note, Range } from "../note/note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import type { Shop } from "../shop/shop.ts";

/** The procedure that the note names, when it is known. */
export function procedureOf(note: Note, shop: Shop): Procedure | undefined {
  const id = note.frontMatter.fields.procedure;
  return id === undefined ? undefined : shop.procedures.get(id);
}

export const valueOfKey = (analysis: Analysis, key: string): NamedValue | undefined =>
  analysis.values.find((value) => value.key === key);

/** The front-matter field whose value stands at an offset. */
export function fieldAt(note: Note, offset: number): { key: string; range: Range } | undefined {
  for (const [key, range] of note.frontMatter.at) {
    if (range.from <= offset && offset <= range.to) return { key, range };
  }
  return undefined;
}
