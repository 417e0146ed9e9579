import type { Range } from "../../note/note.ts";
import type { Dimension } from "../../units/dimension.ts";
import { describeDimension } from "../../units/dimension-name.ts";
import type { OwnUnits } from "../../units/own-units.ts";
import type { Scale } from "../../units/unit.ts";
import { allUnitSpellings, unitsOfDimension } from "../../units/unit-choice.ts";
import { readUnit } from "../../units/unit-reader.ts";
import type { Completion } from "./place.ts";

/** What is known of the unit that is to be written. */
export interface Fitting {
  readonly dimension: Dimension;
  readonly scale?: Scale;
}

/** All units, those that fit first. Where nothing is known they stand in the table's order, the shop's own first. */
export function unitCompletions(
  replaces: Range,
  fitting: Fitting | undefined,
  own: OwnUnits | undefined,
): Completion[] {
  const fits = fitting ? fittingSpellings(fitting, own) : [];
  const known = new Set(fits);
  const others = [...(own?.entries.map(({ symbol }) => symbol) ?? []), ...allUnitSpellings()];
  const all = [...fits, ...others.filter((spelling) => !known.has(spelling))];
  return all.map((spelling) => unitCompletion(spelling, replaces, own));
}

const fittingSpellings = ({ dimension, scale }: Fitting, own: OwnUnits | undefined): readonly string[] =>
  byScale([...(own?.ofDimension(dimension) ?? []), ...unitsOfDimension(dimension)], scale, own);

/** Only the units that fit; all of them where nothing is known. */
export function fittingUnits(
  replaces: Range,
  fitting: Fitting | undefined,
  own: OwnUnits | undefined,
): Completion[] {
  if (!fitting) return unitCompletions(replaces, undefined, own);
  return fittingSpellings(fitting, own).map((spelling) => unitCompletion(spelling, replaces, own));
}

export function unitCompletion(spelling: string, replaces: Range, own?: OwnUnits): Completion {
  const reading = readUnit(spelling, own);
  const kind = reading.ok ? describeDimension(reading.unit.dimension) : undefined;
  const whose = own?.named(spelling) ? ["the shop's own"] : [];
  const detail = [...(kind ? [kind] : []), ...whose].join(", ");
  const about = whose.length > 0 ? { about: spelling } : {};
  return {
    label: spelling,
    kind: "unit",
    text: spelling,
    replaces,
    ...(detail === "" ? {} : { detail }),
    ...about,
  };
}

/** Same scale first, such as absolute pressures where one is asked for; the order is kept otherwise. */
function byScale(
  spellings: readonly string[],
  scale: Scale | undefined,
  own: OwnUnits | undefined,
): readonly string[] {
  if (scale === undefined) return spellings;
  const has = (spelling: string): boolean => {
    const reading = readUnit(spelling, own);
    return reading.ok && reading.unit.scale === scale;
  };
  return [...spellings.filter(has), ...spellings.filter((spelling) => !has(spelling))];
}

/** The dimension and scale of a spelling, if it can be read. */
export function fittingOf(
  spelling: string | null | undefined,
  own: OwnUnits | undefined,
): Fitting | undefined {
  if (spelling === null || spelling === undefined) return undefined;
  const reading = readUnit(spelling, own);
  return reading.ok ? { dimension: reading.unit.dimension, scale: reading.unit.scale } : undefined;
}
