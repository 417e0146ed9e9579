import type { Analysis } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import type { Shop } from "../shop/shop.ts";
import { locate } from "./locate.ts";
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
 * it by mistake), an instrument, a unit or a formula of the shop's own in the shop file, a place of the work
 * where it is first named.
 */
export function definitionAt(analysis: Analysis, shop: Shop, offset: number): Definition | undefined {
  const mention = mentionAt(analysis, offset);
  if (!mention) return inShopFile(analysis, shop, offset);
  if (mention.kind === "instrument") {
    const instrument = shop.instruments.get(mention.key);
    return instrument && { origin: mention.range, places: [{ file: "shop", range: instrument.range }] };
  }
  const places = mentionsLike(analysis, mention)
    .filter(({ defines }) => defines)
    .map(({ range }): Place => ({ file: "note", range }));
  return places.length > 0 ? { origin: mention.range, places } : undefined;
}

/** A unit or formula of the shop's own. Of a unit put together, such as `can/h`, the shop's part counts. */
function inShopFile({ note }: Analysis, shop: Shop, offset: number): Definition | undefined {
  const place = locate(note, offset);
  const range =
    place?.kind === "function"
      ? shop.formulas.get(place.name.key)?.range
      : place?.kind === "unit"
        ? (place.text.match(/[\p{L}_]+/gu) ?? [])
            .map((word) => shop.unitPlaces.get(word))
            .find((found) => found !== undefined)
        : undefined;
  return range && place ? { origin: place.range, places: [{ file: "shop", range }] } : undefined;
}
