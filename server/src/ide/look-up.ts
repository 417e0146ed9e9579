import type { Analysis, NamedValue } from "../analysis/analysis.ts";
import type { Note, Range } from "../note/note.ts";
import type { FunctionEntry } from "../physics/function.ts";
import { findFunction } from "../physics/registry.ts";
import type { Procedure } from "../procedures/procedure.ts";
import type { Shop } from "../shop/shop.ts";

/** The procedure that the note names, when it is known. */
export function procedureOf(note: Note, shop: Shop): Procedure | undefined {
  const id = note.frontMatter.fields.procedure;
  return id === undefined ? undefined : shop.procedures.get(id);
}

/** A function by its name, built in or of the shop's own. */
export const functionNamed = (key: string, shop: Shop): FunctionEntry | undefined =>
  findFunction(key) ?? shop.formulas.get(key.toLowerCase());

export const valueOfKey = (analysis: Analysis, key: string): NamedValue | undefined => analysis.valueOf(key);

/** The front-matter field whose value stands at an offset. */
export function fieldAt(note: Note, offset: number): { key: string; range: Range } | undefined {
  for (const [key, range] of note.frontMatter.at) {
    if (range.from <= offset && offset <= range.to) return { key, range };
  }
  return undefined;
}
