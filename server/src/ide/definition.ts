import type { Analysis } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import type { Shop } from "../shop/shop.ts";
import { mentionAt, mentionsLike } from "./mentions.ts";

/** A place in the note itself or in its shop file. */
export interface Place {
  readonly file: "note" | "shop";
  readonly range: Range;
}

export interface Definition {
  /** The name that was asked about. */
  readonly origin: Range;
  readonly places: readonly Place[];
}

/**
 * Where the thing under the cursor is defined: a reading on its own line (on several, when the note repeats
 * it by mistake), an instrument in the shop file, a place of the work where it is first named.
 */
export function definitionAt(analysis: Analysis, shop: Shop, offset: number): Definition | undefined {
  const mention = mentionAt(analysis, offset);
  if (!mention) return undefined;
  if (mention.kind === "instrument") {
    const instrument = shop.instruments.get(mention.key);
    return instrument && { origin: mention.range, places: [{ file: "shop", range: instrument.range }] };
  }
  const places = mentionsLike(analysis, mention)
    .filter(({ defines }) => defines)
    .map(({ range }): Place => ({ file: "note", range }));
  return places.length > 0 ? { origin: mention.range, places } : undefined;
}
