/**
 * The check digit of a 17-character vehicle identification number: 49 CFR 565.15 (its tables from memory).
 *
 * Only vehicles built for the North American market must carry one, so a wrong digit on any other vehicle
 * may well be right; what is reported stays a warning.
 */
export type VinCheck =
  | { readonly kind: "right" }
  /** Not 17 characters: an older or another kind of number, with nothing to check. */
  | { readonly kind: "not checked" }
  /** I, O and Q are never used, and neither is anything that is no letter or digit. Indexes count from 0. */
  | { readonly kind: "wrong character"; readonly index: number; readonly character: string }
  | { readonly kind: "wrong digit"; readonly found: string; readonly expected: string };

/** Place of the check digit, from 0. */
const CHECK_DIGIT_INDEX = 8;

/** Weight of each position, Table IV. The check digit itself weighs nothing. */
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2] as const;

/** Value of each character, Table III; I, O and Q have none. */
const VALUES: ReadonlyMap<string, number> = new Map([
  ...["0123456789", ".ABCDEFGH", ".JKLMN.P.R", "..STUVWXYZ"].flatMap((row) =>
    [...row].flatMap((c, value): [string, number][] => (c === "." ? [] : [[c, value]])),
  ),
]);

/** Checks a VIN as written; blanks and hyphens around its parts do not count, nor does letter case. */
export function checkVin(written: string): VinCheck {
  const vin = written.toUpperCase().replace(/[\s-]/g, "");
  if (vin.length !== WEIGHTS.length) return { kind: "not checked" };
  let sum = 0;
  for (const [index, weight] of WEIGHTS.entries()) {
    const character = vin.charAt(index);
    const value = VALUES.get(character);
    if (value === undefined) return { kind: "wrong character", index, character };
    sum += value * weight;
  }
  const remainder = sum % 11;
  const expected = remainder === 10 ? "X" : String(remainder);
  const found = vin.charAt(CHECK_DIGIT_INDEX);
  return found === expected ? { kind: "right" } : { kind: "wrong digit", found, expected };
}
