import type { Range } from "../../note/note.ts";
import type { Dimension } from "../../units/dimension.ts";
import { describeDimension } from "../../units/dimension-name.ts";
import type { Scale } from "../../units/unit.ts";
import { allUnitSpellings, unitsOfDimension } from "../../units/unit-choice.ts";
import { readUnit } from "../../units/unit-reader.ts";
import type { Completion } from "./place.ts";

/** What is known of the unit that is to be written. */
export interface Fitting {
  readonly dimension: Dimension;
  readonly scale?: Scale;
}

/** All units, those that fit first. Where nothing is known they stand in the table's order. */
export function unitCompletions(replaces: Range, fitting: Fitting | undefined): Completion[] {
  const fits = fitting ? byScale(unitsOfDimension(fitting.dimension), fitting.scale) : [];
  const known = new Set(fits);
  const all = [...fits, ...allUnitSpellings().filter((spelling) => !known.has(spelling))];
  return all.map((spelling) => unitCompletion(spelling, replaces));
}

/** Only the units that fit; all of them where nothing is known. */
export function fittingUnits(replaces: Range, fitting: Fitting | undefined): Completion[] {
  if (!fitting) return unitCompletions(replaces, undefined);
  return byScale(unitsOfDimension(fitting.dimension), fitting.scale).map((s) => unitCompletion(s, replaces));
}

export function unitCompletion(spelling: string, replaces: Range): Completion {
  const reading = readUnit(spelling);
  const kind = reading.ok ? describeDimension(reading.unit.dimension) : undefined;
  return { label: spelling, kind: "unit", text: spelling, replaces, ...(kind ? { detail: kind } : {}) };
}

/** Same scale first, such as absolute pressures where one is asked for; the order is kept otherwise. */
function byScale(spellings: readonly string[], scale: Scale | undefined): readonly string[] {
  if (scale === undefined) return spellings;
  const has = (spelling: string): boolean => {
    const reading = readUnit(spelling);
    return reading.ok && reading.unit.scale === scale;
  };
  return [...spellings.filter(has), ...spellings.filter((spelling) => !has(spelling))];
}

/** The dimension and scale of a spelling, if it can be read. */
export function fittingOf(spelling: string | null | undefined): Fitting | undefined {
  if (spelling === null || spelling === undefined) return undefined;
  const reading = readUnit(spelling);
  return reading.ok ? { dimension: reading.unit.dimension, scale: reading.unit.scale } : undefined;
}
