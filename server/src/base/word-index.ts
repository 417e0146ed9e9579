import MiniSearch from "minisearch";
import type { NoteRecord } from "./record.ts";

/** The parts of a note that words are looked for in, and how much a hit in each says. */
const WEIGHTS = {
  complaint: 3,
  subject: 3,
  cause: 2,
  correction: 2,
  title: 2,
  place: 2,
  vehicle: 1,
  rest: 1,
};
type Part = keyof typeof WEIGHTS;
const PARTS = Object.keys(WEIGHTS) as Part[];

/** A note that was found, with the words that it holds. */
export interface WordHit {
  readonly note: number;
  readonly score: number;
  /** The words of the question that the note holds, or holds something like, as they were asked. */
  readonly words: readonly string[];
  /** The words of the note that were met, as `processTerm` leaves them. */
  readonly terms: readonly string[];
}

/** Full-text search over notes: forgives a slip in four letters, and finds a word by its beginning. */
export class WordIndex {
  readonly #index: MiniSearch;

  constructor(notes: readonly NoteRecord[] = []) {
    this.#index = new MiniSearch({
      fields: [...PARTS],
      extractField: (document, field) =>
        field === "id" ? document.id : partOf(document.note, field as Part),
      tokenize,
      processTerm,
    });
    this.#index.addAll(notes.map((note, id) => ({ id, note })));
  }

  /** Puts a note in, in the place of the one that had its number. */
  put(id: number, note: NoteRecord): void {
    if (this.#index.has(id)) this.#index.replace({ id, note });
    else this.#index.add({ id, note });
  }

  remove(id: number): void {
    if (this.#index.has(id)) this.#index.discard(id);
  }

  /** Notes with any of the words, best first; with `all`, only those with all of them. */
  search(text: string, { all = false, parts }: { all?: boolean; parts?: readonly Part[] } = {}): WordHit[] {
    const found = this.#index.search(text, {
      combineWith: all ? "AND" : "OR",
      boost: WEIGHTS,
      prefix: (term) => term.length > 3,
      fuzzy: (term) => (term.length > 3 ? 0.25 : false),
      ...(parts ? { fields: [...parts] } : {}),
    });
    const asked = [...new Set(tokenize(text.toLowerCase()))];
    return found.map(({ id, score, queryTerms, terms }) => ({
      note: id,
      score,
      terms,
      words: asked.filter((word) => queryTerms.includes(stem(word))),
    }));
  }
}

function partOf(note: NoteRecord, part: Part): string {
  switch (part) {
    case "place":
      return note.steps.map((step) => step.place ?? "").join(" ");
    case "vehicle":
      return [note.fields["vehicle description"] ?? "", note.fields["vehicle make"] ?? ""].flat().join(" ");
    case "rest":
      return note.words;
    default:
      return [note.fields[part] ?? ""].flat().join(" ");
  }
}

const WORD = /[\p{L}\p{N}]+/gu;
export const tokenize = (text: string): string[] => text.match(WORD) ?? [];

/** Words that say nothing about a job. */
const SMALL = new Set(
  "a an and are as at be but by for from has have in into is it its no not of off on or that the then to was when where with".split(
    " ",
  ),
);

/**
 * English endings that only count or tell the time are left off, so that `droplets` meets `droplet`. Words of
 * other languages mostly pass as they are.
 */
export function processTerm(term: string): string | null {
  const known = processed.get(term);
  if (known !== undefined) return known;
  const word = term.toLowerCase();
  const made = SMALL.has(word) ? null : stem(word);
  if (processed.size >= MOST_PROCESSED) processed.clear();
  processed.set(term, made);
  return made;
}

/** Notes say the same words over and over, so each is taken apart once. */
const processed = new Map<string, string | null>();
const MOST_PROCESSED = 20_000;

export function stem(word: string): string {
  if (word.length < 5) return word.replace(/s$/, "");
  return word
    .replace(/(?:ing|ings|ed|es|s)$/, (ending) => (word.length - ending.length >= 3 ? "" : ending))
    .replace(/([b-df-hj-np-tv-z])\1$/, "$1");
}
