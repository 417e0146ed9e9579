import { type Dimension, fromSI, readUnit, toSI, type Unit } from "../../server/src/units/index.ts";

/** The unit of a spelling that must be readable. */
export function unit(spelling: string): Unit {
  const reading = readUnit(spelling);
  if (!reading.ok) throw new Error(`"${spelling}" is not read: ${JSON.stringify(reading)}`);
  return reading.unit;
}

export const convert = (value: number, from: string, to: string): number =>
  fromSI(toSI(value, unit(from)), unit(to));

/** Relative difference; absolute beside zero. */
export const relative = (got: number, wanted: number): number =>
  Math.abs(got - wanted) / (Math.abs(wanted) > 0 ? Math.abs(wanted) : 1);

const SYMBOLS = ["m", "kg", "s", "A", "K", "mol", "cd"] as const;

/** SI base units of a dimension, each with its power, joined as another program wants them. */
export function siUnits(dimension: Dimension, power: string, product: string): string {
  const parts = SYMBOLS.flatMap((symbol, i) => {
    const exponent = dimension.exponents[i] ?? 0;
    return exponent === 0 ? [] : [`${symbol}${power}${exponent}`];
  });
  return parts.join(product) || "1";
}
