import { skipBlanks } from "../../language/scanner.ts";
import { type Completion, type LinePlace, typedFrom } from "./place.ts";
import { unitCompletions } from "./units.ts";

/** Units for the columns of a series' header. */
export function completeSeries(place: LinePlace): Completion[] {
  const { before } = place;
  const open = before.lastIndexOf("[");
  if (open < 0 || before.indexOf("]", open) >= 0) return [];
  return unitCompletions(typedFrom(place, skipBlanks(before, open + 1)), undefined, place.shop.units);
}
