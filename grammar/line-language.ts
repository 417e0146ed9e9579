/**
 * The declared grammar of the line language: its words, its tokens and its operators. The reader, the
 * highlighting and the format reference all take them from here; the rules that put them together stand
 * beside this file in `line-language.ebnf`, and a test holds the reader to them.
 */

/** Info strings of the blocks that are read. */
export const BLOCK_KINDS = ["readings", "series", "limits", "steps"] as const;

/** Words that are never part of a name inside a formula. */
export const FORMULA_WORDS = ["and", "or", "not", "is"] as const;

/** Words that open a clause after a measured value or inside a step's remark, and so are never units. */
export const CLAUSE_WORDS = ["via", "at", "until"] as const;

export const TRUTH_WORDS = { yes: true, no: false } as const;

/** First words of a remark that say how a step came out. */
export const OUTCOME_WORDS = ["found", "none", "pass", "fail", "droplets", "fog"] as const;

/**
 * Units with a blank, a hyphen or a quote mark inside. Elsewhere these end a unit, so such spellings are
 * declared one by one; a test holds them to the table of units.
 */
const liquids = "(?:gallons?|gal|quarts?|qt|pints?|pt|fl\\.? ?oz\\.?)";
const spelledOut = [
  "(?:delta|Δ) ?(?:deg ?[CF]|°[CF]|K)",
  "deg [CF]",
  `(?:US|UK|imperial|imp) ${liquids}`,
  `${liquids} ?\\((?:US|imp)\\)`,
  "fl\\.? ?oz\\.?",
  "(?:in|ft|mm|cm) (?:H2O|WC|Hg)",
  "(?:cu|sq) (?:ft|in|cm)",
  "(?:ft|in) lbs?|lb (?:ft|in)",
  "(?:lbf?|kg)-(?:ft|in|m)|(?:ft|in)-lb[fs]?",
  "V DC",
  "% ?(?:RH|rh)",
  '["″](?:H2O|WC|Hg)?',
].join("|");

/** Words after which such a spelling may go on; behind any other word a blank ends the unit. */
export const UNIT_GOES_ON: readonly string[] = [
  "delta",
  "Δ",
  "deg",
  ...["US", "UK", "imperial", "imp", "fl", "floz"],
  ...["gal", "gallon", "gallons", "qt", "quart", "quarts", "pt", "pint", "pints"],
  ...["in", "ft", "mm", "cm", "cu", "sq", "lb", "V", "%"],
];

/**
 * Tokens as regular expression sources, for use with the `u` flag.
 * A name's first word starts with a letter; later words may be whole numbers.
 * A unit touches only its number and itself, so it holds no blank but where it is spelled out above; `.` and
 * `/` belong to it only when more of the unit follows, and a bracket only as a qualifier right behind it, as
 * in `kPa(a)`, or round what `/` divides by, as in `J/(kg.K)`.
 */
const unitFactor = `(?:(?:${spelledOut})(?![\\p{L}\\p{N}])|\\p{L}*\\[[^\\]\\s]+\\]|[\\p{L}°][\\p{L}_]*(?:[0-9]\\p{L}+)?|[%℃℉])`;
const unitPower = "(?:\\^?[-−]?[0-9]+|[⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)?";
const unitQualifier = "(?:\\([\\p{L}0-9.° ]+\\))?";
const unitPart = `${unitFactor}${unitPower}${unitQualifier}`;
const unitGroup = `\\(${unitPart}(?:[./·]${unitPart})+\\)`;

export const TOKENS = {
  number: "(?:[0-9]+(?:\\.[0-9]+)?|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?",
  fraction: "(?:([0-9]+) )?([0-9]+)/([0-9]+)",
  word: "\\p{L}[\\p{L}\\p{M}\\p{N}_'’]*(?:-[\\p{L}\\p{N}][\\p{L}\\p{M}\\p{N}_'’]*)*",
  laterWord: "[\\p{L}\\p{N}][\\p{L}\\p{M}\\p{N}_'’]*(?:-[\\p{L}\\p{N}][\\p{L}\\p{M}\\p{N}_'’]*)*",
  unit: `(?:1/)?${unitPart}(?:[./·](?:${unitPart}|${unitGroup}))*`,
  time: "([01]?[0-9]|2[0-3]):([0-5][0-9])(?![0-9:])",
  toDo: "--:--",
  date: "([0-9]{4})-([0-9]{2})-([0-9]{2})(?![0-9])",
  text: '"[^"]*"',
} as const;

export type Associativity = "left" | "right" | "none";

export interface OperatorRow {
  /** How tightly it binds; higher binds first. */
  readonly binds: number;
  readonly side: Associativity;
  /** Each operator with the other spellings that mean the same. */
  readonly spellings: Readonly<Record<string, readonly string[]>>;
}

/** Operators from loosest to tightest. The minus sign before a value binds between `*` and `^`. */
export const OPERATORS: readonly OperatorRow[] = [
  { binds: 1, side: "left", spellings: { or: [] } },
  { binds: 2, side: "left", spellings: { and: [] } },
  {
    binds: 4,
    side: "none",
    spellings: { "<=": ["≤"], ">=": ["≥"], "!=": ["≠"], "==": [], "<": [], ">": [], is: [] },
  },
  { binds: 5, side: "left", spellings: { "+": [], "-": ["−", "–"] } },
  { binds: 6, side: "left", spellings: { "*": ["×", "·"], "/": ["÷"] } },
  { binds: 8, side: "right", spellings: { "^": [] } },
];

export const NOT_BINDS = 3;
export const MINUS_BINDS = 7;

/** Brackets deeper than this are refused, so that no formula can exhaust the reader. */
export const DEEPEST_NESTING = 64;

export const SIGNS = {
  recorded: ["≈", "~="],
  tolerance: ["±", "+/-"],
} as const;
