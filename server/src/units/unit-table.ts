import { ELECTRICAL_UNITS } from "./table/electricity.ts";
import { FORCE_AND_ENERGY_UNITS } from "./table/force-and-energy.ts";
import { LENGTH_MASS_TIME_UNITS } from "./table/length-mass-time.ts";
import { PRESSURE_UNITS } from "./table/pressure.ts";
import { TEMPERATURE_UNITS } from "./table/temperature.ts";
import { VOLUME_UNITS } from "./table/volume-and-flow.ts";
import { PREFIX_FACTORS, PREFIX_WORDS, type Prefix, type UnitEntry } from "./unit-entry.ts";

/** Every unit that a note may use, in the order in which completion offers those of one dimension. */
export const UNIT_TABLE: readonly UnitEntry[] = [
  ...PRESSURE_UNITS,
  ...TEMPERATURE_UNITS,
  ...ELECTRICAL_UNITS,
  ...VOLUME_UNITS,
  ...LENGTH_MASS_TIME_UNITS,
  ...FORCE_AND_ENERGY_UNITS,
];

/** A spelling found in the table: the entry, and the factor of the prefix it was written with. */
export interface TableHit {
  readonly entry: UnitEntry;
  readonly prefix: number;
}

interface Known {
  readonly bare: TableHit;
  /** A prefix letter may stand before this spelling. */
  readonly takesPrefix: boolean;
  /** A prefix word may stand before this spelling. */
  readonly takesPrefixWord: boolean;
}

let index: Map<string, Known> | undefined;

function tableIndex(): Map<string, Known> {
  if (index) return index;
  index = new Map();
  for (const entry of UNIT_TABLE) {
    const takesPrefix = entry.prefixes !== undefined;
    const bare: TableHit = { entry, prefix: 1 };
    const symbol: Known = { bare, takesPrefix, takesPrefixWord: false };
    const word: Known = { bare, takesPrefix: false, takesPrefixWord: takesPrefix };
    index.set(fold(entry.symbol), symbol);
    for (const spelling of entry.aliases ?? []) index.set(fold(spelling), symbol);
    for (const spelling of entry.ucum ?? []) index.set(fold(spelling), symbol);
    for (const spelling of entry.words ?? []) index.set(fold(spelling), word);
  }
  return index;
}

/** Finds a spelling, prefixed or not, already folded. Compounds are found only where the table lists them. */
export function lookUp(folded: string): TableHit | undefined {
  const table = tableIndex();
  const whole = table.get(folded);
  if (whole) return whole.bare.entry.onlyPrefixed && isSymbol(whole) ? undefined : whole.bare;
  const first = folded.charAt(0);
  const prefix = first === "u" ? "µ" : first;
  if (isPrefix(prefix)) {
    const rest = table.get(folded.slice(1));
    if (rest?.takesPrefix && rest.bare.entry.prefixes?.includes(prefix)) {
      return { entry: rest.bare.entry, prefix: PREFIX_FACTORS[prefix] };
    }
  }
  return folded.length > 6 ? lookUpWord(folded, table) : undefined;
}

function lookUpWord(folded: string, table: Map<string, Known>): TableHit | undefined {
  for (const word in PREFIX_WORDS) {
    const prefix = PREFIX_WORDS[word];
    if (prefix === undefined || !folded.startsWith(word)) continue;
    const rest = table.get(folded.slice(word.length));
    if (rest?.takesPrefixWord && rest.bare.entry.prefixes?.includes(prefix)) {
      return { entry: rest.bare.entry, prefix: PREFIX_FACTORS[prefix] };
    }
  }
  return undefined;
}

const isSymbol = (known: Known): boolean => known.takesPrefix;
const isPrefix = (text: string): text is Prefix => Object.hasOwn(PREFIX_FACTORS, text);

/** `symbol` and its prefixed forms, in our preferred spelling. */
export function preferredSpellings(entry: UnitEntry): string[] {
  return withPrefixes(entry, entry.symbol);
}

/** Every spelling that a technician may type, UCUM codes left out: what a mistyped unit is compared with. */
export function everydaySpellings(entry: UnitEntry): string[] {
  const symbols = [entry.symbol, ...(entry.aliases ?? [])];
  return [...symbols.flatMap((symbol) => withPrefixes(entry, symbol)), ...(entry.words ?? [])];
}

function withPrefixes(entry: UnitEntry, symbol: string): string[] {
  const prefixed = (entry.prefixes ?? []).map((prefix) => prefix + symbol);
  return entry.onlyPrefixed ? prefixed : [symbol, ...prefixed];
}

/**
 * One character for each character, so that places in a folded spelling are places in the note: both micro
 * signs and both ohm signs are one, superscripts and subscripts are plain digits, every multiplication dot
 * is a full stop.
 */
export function fold(spelling: string): string {
  if (!BEYOND_ASCII.test(spelling)) return spelling;
  let folded = "";
  for (let i = 0; i < spelling.length; i++) {
    const character = spelling.charAt(i);
    folded += SAME_CHARACTER.get(character) ?? character;
  }
  return folded;
}

const BEYOND_ASCII = /[^ -~]/;

const SAME_CHARACTER: ReadonlyMap<string, string> = new Map([
  ["\u03bc", "\u00b5"], // Greek mu is the micro sign.
  ["\u2126", "\u03a9"], // The ohm sign is Greek Omega.
  ["\u2206", "\u0394"], // The increment sign is Greek Delta.
  ["\u00ba", "\u00b0"], // Keyboards that lack the degree sign often have the masculine ordinal.
  ["\u02da", "\u00b0"],
  ["\u00b7", "."],
  ["\u22c5", "."],
  ["\u2219", "."],
  ["\u00b2", "2"],
  ["\u00b3", "3"],
  ["\u00b9", "1"],
  ["\u2074", "4"],
  ["\u2075", "5"],
  ["\u2076", "6"],
  ["\u207b", "-"],
  ["\u2212", "-"],
  ["\u2082", "2"],
  ["\u2032", "'"],
  ["\u2033", '"'],
  ["\u201d", '"'],
  ["\u00a0", " "],
  ["\u202f", " "],
]);
