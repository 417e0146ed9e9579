import type { Dimension } from "./dimension.ts";

/**
 * Metric prefixes, as the BIPM SI Brochure (9th ed.) gives them. The few that no workshop writes are left
 * out on purpose: every prefix that is read is one more way for a slip of the Shift key to pass unseen.
 */
export const PREFIX_FACTORS = {
  p: 1e-12,
  n: 1e-9,
  µ: 1e-6,
  m: 1e-3,
  c: 1e-2,
  d: 1e-1,
  h: 1e2,
  k: 1e3,
  M: 1e6,
  G: 1e9,
} as const;

export type Prefix = keyof typeof PREFIX_FACTORS;

/** Prefixes spelled out, for `millilitres` and `kilowatts`. */
export const PREFIX_WORDS: Readonly<Record<string, Prefix>> = {
  pico: "p",
  nano: "n",
  micro: "µ",
  milli: "m",
  centi: "c",
  deci: "d",
  hecto: "h",
  kilo: "k",
  mega: "M",
  giga: "G",
};

/** One unit of the table. `SI value = number * factor + offset`. */
export interface UnitEntry {
  /** Our preferred spelling. */
  readonly symbol: string;
  /** Other symbols for it. They take the same prefixes as `symbol`. */
  readonly aliases?: readonly string[];
  /** UCUM codes (case sensitive column), which take the same prefixes too. */
  readonly ucum?: readonly string[];
  /** Spelled-out names and trade abbreviations, which take no prefix letter. */
  readonly words?: readonly string[];
  /** Plain-English name, for hovers and completion. */
  readonly name: string;
  readonly dimension: Dimension;
  readonly factor: number;
  readonly offset?: number;
  /**
   * `pressure` reads as gauge and takes `(g)` and `(a)`; the others are the scales of the same name.
   * Left out, the unit is plain.
   */
  readonly nature?: "pressure" | "point" | "kelvin" | "difference";
  /** Metric prefixes that it is read with; they are also the ones that completion offers. */
  readonly prefixes?: readonly Prefix[];
  /** The bare symbol is no unit here (`F`, `P`), only its prefixed forms (`µF`, `cP`) are. */
  readonly onlyPrefixed?: true;
  /** The trade writes the scale as a last letter too: `psig`, `psia`, `mbara`. */
  readonly gluedScale?: true;
  /** Where the factor comes from. */
  readonly source: string;
  /** Said aloud, when the trade reads this spelling in more than one way. */
  readonly remark?: string;
}

export const SI_BROCHURE = "BIPM SI Brochure, 9th ed.";
export const NIST_811 = "NIST SP 811 (2008), App. B.8";
export const UCUM = "UCUM";

/** Standard acceleration of free fall in m/s2, exact (BIPM SI Brochure). */
export const STANDARD_GRAVITY = 9.80665;
/** The international inch in m, exact (NIST SP 811). */
export const INCH = 0.0254;
/** The international foot in m, exact. */
export const FOOT = 12 * INCH;
/** The avoirdupois pound in kg, exact (NIST SP 811). */
export const POUND = 0.45359237;
/** The pound-force in N, exact. */
export const POUND_FORCE = POUND * STANDARD_GRAVITY;
