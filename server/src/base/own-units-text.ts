import { dimension } from "../units/dimension.ts";
import { OwnUnits, readUnit } from "../units/index.ts";
import type { Unit } from "../units/unit.ts";
import type { UnitEntry } from "../units/unit-entry.ts";
import type { UnitRecord } from "./record.ts";

/** A shop's own units as a record keeps them: one text, so that all notes of a shop share it. */

type Kept = Pick<UnitEntry, "symbol" | "aliases" | "name" | "dimension" | "factor" | "nature" | "remark">;

const texts = new WeakMap<OwnUnits, string>();

export function unitsAsText(units: OwnUnits): string {
  const known = texts.get(units);
  if (known !== undefined) return known;
  const kept = units.entries.map(
    ({ symbol, aliases, name, dimension, factor, nature, remark }): Kept => ({
      symbol,
      ...(aliases ? { aliases } : {}),
      name,
      dimension,
      factor,
      ...(nature ? { nature } : {}),
      ...(remark === undefined ? {} : { remark }),
    }),
  );
  const text = JSON.stringify(kept);
  texts.set(units, text);
  return text;
}

/** Reads what {@link unitsAsText} wrote. */
export function unitsFromText(text: string): OwnUnits {
  const kept: readonly Kept[] = JSON.parse(text);
  return new OwnUnits(
    kept.map((one) => ({
      ...one,
      // Dimensions are compared as objects, of which there is one for each.
      dimension: dimension(one.dimension.exponents),
      source: "the shop file",
    })),
  );
}

/** What a spelling stands for, where only the shop knows it. */
export function ownUnit(spelling: string, units: OwnUnits | undefined): UnitRecord | undefined {
  if (units === undefined || readUnit(spelling).ok) return undefined;
  const reading = readUnit(spelling, units);
  if (!reading.ok) return undefined;
  const { factor, dimension: of, scale } = reading.unit;
  return { factor, exponents: of.exponents, scale };
}

/** The unit of a stored value whose unit is the shop's own. */
export const storedUnit = (spelling: string, { factor, exponents, scale }: UnitRecord): Unit => ({
  spelling,
  factor,
  offset: 0,
  dimension: dimension(exponents),
  scale,
});
