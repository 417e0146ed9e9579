import type { Analysis } from "../analysis/analysis.ts";
import { EvaluationMemo } from "../analysis/evaluation-memo.ts";
import { analyze, type Surroundings } from "../check/analyze.ts";
import { LineMemo } from "../note/line-memo.ts";
import type { Note } from "../note/note.ts";
import { readNote } from "../note/read-note.ts";
import type { YamlReader } from "../note/yaml-tree.ts";
import type { Shop } from "../shop/shop.ts";
import type { PreviewFiles } from "./preview.ts";

export interface CheckedSheet {
  readonly analysis: Analysis;
  readonly shop: Shop;
}

interface Kept extends CheckedSheet {
  readonly note: Note;
  readonly surroundings: Surroundings;
}

/** Previews that are open side by side; of a note beyond them the next page takes longer, no more. */
const MOST_NOTES = 4;

/**
 * The notes that pages are drawn from. A page is drawn again at every pause in the typing, so what the last
 * drawing worked out is kept: it saves time and never changes what is drawn.
 */
export class CheckedNotes {
  readonly #lines = new LineMemo();
  #read: Note | undefined;
  readonly #values = new Map<string, EvaluationMemo>();
  readonly #kept = new Map<string, Kept>();
  /** What one drawing of a page sees; its blocks are drawn one by one and must all tell of the same. */
  readonly #drawings = new WeakMap<object, Kept>();

  constructor(
    private readonly yaml: YamlReader,
    private readonly files: PreviewFiles,
  ) {}

  read(text: string): Note {
    if (this.#read?.text !== text) this.#read = readNote(text, this.yaml, this.#lines);
    return this.#read;
  }

  /** @param drawing what the editor hands to the renderers of one page, the same for all of them */
  check(note: Note, drawing: unknown, uriOf: () => string | undefined): CheckedSheet {
    const known = isObject(drawing) ? this.#drawings.get(drawing) : undefined;
    if (known?.note === note) return known;
    const checked = this.#check(note, uriOf());
    if (isObject(drawing)) this.#drawings.set(drawing, checked);
    return checked;
  }

  #check(note: Note, uri: string | undefined): Kept {
    const shop = this.files.shop(uri);
    const surroundings = this.files.surroundings(uri, note);
    const key = uri ?? "";
    const before = this.#kept.get(key);
    if (before?.note === note && before.shop === shop && isSame(before.surroundings, surroundings))
      return before;
    const memo = this.#values.get(key) ?? new EvaluationMemo();
    const checked = { note, shop, surroundings, analysis: analyze(note, shop, { ...surroundings, memo }) };
    keepLast(this.#values, key, memo);
    keepLast(this.#kept, key, checked);
    return checked;
  }
}

/** Puts an entry at the end, and drops those that were used longest ago. */
function keepLast<V>(map: Map<string, V>, key: string, value: V): void {
  map.delete(key);
  map.set(key, value);
  for (const oldest of map.keys()) {
    if (map.size <= MOST_NOTES) return;
    map.delete(oldest);
  }
}

const isObject = (value: unknown): value is object => typeof value === "object" && value !== null;

function isSame(a: Surroundings, b: Surroundings): boolean {
  const [missing, now] = [a.missing ?? new Set<string>(), b.missing ?? new Set<string>()];
  if (missing.size !== now.size || ![...missing].every((target) => now.has(target))) return false;
  const [logs, read] = [a.logs ?? new Map<string, unknown>(), b.logs ?? new Map<string, unknown>()];
  // A log that did not change is the same object; see `Workspace`.
  return logs.size === read.size && [...logs].every(([key, log]) => read.get(key) === log);
}
