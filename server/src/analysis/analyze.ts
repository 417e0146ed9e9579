import type { Note } from "../note/note.ts";
import type { Shop } from "../shop/shop.ts";
import type { Analysis } from "./analysis.ts";

/** What only the world outside the note can tell. Gathered by an adaptor beforehand, so that `analyze` stays pure. */
export interface Surroundings {
  /** Link targets of the note that lead to no file. */
  readonly missing?: ReadonlySet<string>;
}

/** Checks and computes one note. Pure: the same note, shop and surroundings give the same analysis. */
export function analyze(note: Note, _shop: Shop, _surroundings: Surroundings = {}): Analysis {
  return {
    note,
    values: [],
    findings: [],
    accepted: [],
    nameUses: () => [],
    working: () => ({
      formula: "",
      numbers: "",
      result: "",
      contributions: [],
      assumptions: [],
      equations: [],
      sources: [],
      cautions: [],
    }),
    recordResults: () => [],
  };
}
