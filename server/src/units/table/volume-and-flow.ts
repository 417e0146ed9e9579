import { VOLUME, VOLUME_FLOW } from "../dimension.ts";
import { FOOT, INCH, NIST_811, SI_BROCHURE, UCUM, type UnitEntry } from "../unit-entry.ts";

/** The US gallon in m3: 231 cubic inches, exact. */
const US_GALLON = 231 * INCH ** 3;
/** The imperial gallon in m3, exact (UK Weights and Measures Act 1985, as NIST SP 811 gives it). */
const IMPERIAL_GALLON = 4.54609e-3;

const METRIC: readonly UnitEntry[] = [
  {
    symbol: "L",
    aliases: ["l", "ℓ"],
    ucum: ["L", "l"],
    words: ["litre", "litres", "liter", "liters"],
    name: "litre",
    dimension: VOLUME,
    factor: 1e-3,
    prefixes: ["n", "µ", "m", "c", "d", "h"],
    source: SI_BROCHURE,
  },
  {
    symbol: "cc",
    words: ["cu cm"],
    name: "cubic centimetre",
    dimension: VOLUME,
    factor: 1e-6,
    source: SI_BROCHURE,
  },
];

const INCH_AND_FOOT: readonly UnitEntry[] = [
  {
    symbol: "in3",
    ucum: ["[cin_i]"],
    words: ["cu in", "cu.in", "cuin"],
    name: "cubic inch",
    dimension: VOLUME,
    factor: INCH ** 3,
    source: NIST_811,
  },
  {
    symbol: "ft3",
    ucum: ["[cft_i]"],
    words: ["cu ft", "cu.ft", "cuft"],
    name: "cubic foot",
    dimension: VOLUME,
    factor: FOOT ** 3,
    source: NIST_811,
  },
];

/** Bare gallons, quarts, pints and fluid ounces read as US measure and say so; the imperial ones are named. */
const LIQUID: readonly UnitEntry[] = [
  ...liquid("gal", "gallon", ["gallon", "gallons"], US_GALLON, IMPERIAL_GALLON, "gal"),
  ...liquid("qt", "quart", ["quart", "quarts"], US_GALLON / 4, IMPERIAL_GALLON / 4, "qt"),
  ...liquid("pt", "pint", ["pint", "pints"], US_GALLON / 8, IMPERIAL_GALLON / 8, "pt"),
  ...liquid(
    "floz",
    "fluid ounce",
    ["fl oz", "fl.oz", "fl. oz", "fl.oz."],
    US_GALLON / 128,
    IMPERIAL_GALLON / 160,
    "foz",
  ),
];

const FLOWS: readonly UnitEntry[] = [
  {
    symbol: "L/min",
    aliases: ["l/min"],
    ucum: ["L/min", "l/min"],
    words: ["lpm"],
    name: "litre per minute",
    dimension: VOLUME_FLOW,
    factor: 1e-3 / 60,
    source: SI_BROCHURE,
  },
  {
    symbol: "ft3/min",
    ucum: ["[cft_i]/min", "[ft_i]3/min"],
    words: ["cfm", "cu ft/min"],
    name: "cubic foot per minute",
    dimension: VOLUME_FLOW,
    factor: FOOT ** 3 / 60,
    source: NIST_811,
  },
  {
    symbol: "ft3/h",
    ucum: ["[cft_i]/h", "[ft_i]3/h"],
    words: ["cfh"],
    name: "cubic foot per hour",
    dimension: VOLUME_FLOW,
    factor: FOOT ** 3 / 3600,
    source: NIST_811,
  },
  {
    symbol: "gal(US)/min",
    ucum: ["[gal_us]/min"],
    name: "US gallon per minute",
    dimension: VOLUME_FLOW,
    factor: US_GALLON / 60,
    source: NIST_811,
  },
  {
    symbol: "gpm",
    name: "US gallon per minute",
    dimension: VOLUME_FLOW,
    factor: US_GALLON / 60,
    source: NIST_811,
    remark: "gpm is read with the US gallon, 3.785 L; with the imperial one, write gal(imp)/min.",
  },
];

export const VOLUME_UNITS: readonly UnitEntry[] = [...METRIC, ...INCH_AND_FOOT, ...LIQUID, ...FLOWS];

function liquid(
  symbol: string,
  name: string,
  words: readonly string[],
  us: number,
  imperial: number,
  ucum: string,
): UnitEntry[] {
  const spoken = [symbol, ...words];
  const litres = (factor: number) => `${(factor * 1e3).toPrecision(4)} L`;
  return [
    {
      symbol,
      words,
      name: `US ${name}`,
      dimension: VOLUME,
      factor: us,
      source: NIST_811,
      remark: `${symbol} is read as the US ${name}, ${litres(us)}; the imperial one, ${litres(imperial)}, is written ${symbol}(imp).`,
    },
    {
      symbol: `${symbol}(US)`,
      aliases: [`${symbol}(us)`, `us${symbol}`, `US${symbol}`],
      ucum: [`[${ucum}_us]`],
      words: spoken.flatMap((word) => [`US ${word}`, `${word}(US)`, `${word} (US)`]),
      name: `US ${name}`,
      dimension: VOLUME,
      factor: us,
      source: `${NIST_811}; ${UCUM}`,
    },
    {
      symbol: `${symbol}(imp)`,
      aliases: [`${symbol}(UK)`, `${symbol}(uk)`, `imp${symbol}`, `UK${symbol}`],
      ucum: [`[${ucum}_br]`],
      words: spoken.flatMap((word) => [
        `imp ${word}`,
        `imperial ${word}`,
        `UK ${word}`,
        `${word}(imp)`,
        `${word} (imp)`,
      ]),
      name: `imperial ${name}`,
      dimension: VOLUME,
      factor: imperial,
      source: `${NIST_811}; ${UCUM}`,
    },
  ];
}
