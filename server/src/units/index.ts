/**
 * Units of the trade: what a spelling means, and which spelling to show.
 *
 * - {@link readUnit} reads a spelling, {@link toSI} and {@link fromSI} convert with it.
 * - {@link defaultUnit}, {@link unitWithScale} and {@link unitsOfDimension} choose one.
 * - {@link UNIT_TABLE} is the data: one entry per unit with its exact factor and source.
 */

export type { Dimension, Exponents } from "./dimension.ts";
export * as dimensions from "./dimension.ts";
export { describeDimension } from "./dimension-name.ts";
export { OwnUnits } from "./own-units.ts";
export { fromSI, type Scale, toSI, type Unit, type UnitReading } from "./unit.ts";
export {
  allUnitSpellings,
  defaultUnit,
  PLAIN_NUMBER,
  spacedUnitSpellings,
  unitOfDifference,
  unitsOfDimension,
  unitWithScale,
} from "./unit-choice.ts";
export type { UnitEntry } from "./unit-entry.ts";
export { readUnit } from "./unit-reader.ts";
export { UNIT_TABLE } from "./unit-table.ts";
