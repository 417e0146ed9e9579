import { PRESSURE } from "../dimension.ts";
import { INCH, NIST_811, POUND_FORCE, SI_BROCHURE, STANDARD_GRAVITY, type UnitEntry } from "../unit-entry.ts";

/** Conventional water column in Pa per metre: 1000 kg/m3 under standard gravity, exact. */
const WATER = 1000 * STANDARD_GRAVITY;
/** Conventional mercury column in Pa per metre: 13 595.1 kg/m3 under standard gravity, exact. */
const MERCURY = 13595.1 * STANDARD_GRAVITY;

const INH2O_REMARK =
  "inH2O is read as the conventional inch of water, 249.08891 Pa. Columns at 4 degC (249.082 Pa) and at " +
  "60 degF (248.84 Pa) are written inH2O(4degC) and inH2O(60degF).";
const INHG_REMARK =
  "inHg is read as the conventional inch of mercury, 3386.38864 Pa. Columns at 0 degC (3386.38 Pa) and at " +
  "60 degF (3376.85 Pa) are written inHg(0degC) and inHg(60degF).";

/** Every pressure unit reads as gauge when bare, and takes `(g)` and `(a)`. */
export const PRESSURE_UNITS: readonly UnitEntry[] = [
  pressure({
    symbol: "Pa",
    ucum: ["Pa"],
    words: ["pascal", "pascals"],
    name: "pascal",
    factor: 1,
    prefixes: ["µ", "m", "h", "k", "M", "G"],
    gluedScale: true,
    source: SI_BROCHURE,
  }),
  pressure({
    symbol: "bar",
    ucum: ["bar"],
    aliases: ["bars"],
    name: "bar",
    factor: 1e5,
    prefixes: ["µ", "m"],
    gluedScale: true,
    source: NIST_811,
  }),
  pressure({
    symbol: "psi",
    aliases: ["lbf/in2"],
    ucum: ["[psi]", "[lbf_av]/[in_i]2", "[lbf_av]/[sin_i]"],
    words: ["lb/in2", "lbs/in2"],
    name: "pound-force per square inch",
    factor: POUND_FORCE / INCH ** 2,
    gluedScale: true,
    source: `${NIST_811}; lbf/in2 by definition`,
  }),
  pressure({
    symbol: "kgf/cm2",
    ucum: ["att", "kgf/cm2"],
    words: ["kp/cm2"],
    name: "technical atmosphere",
    factor: STANDARD_GRAVITY * 1e4,
    source: NIST_811,
  }),
  pressure({
    symbol: "kg/cm2",
    name: "technical atmosphere",
    factor: STANDARD_GRAVITY * 1e4,
    source: NIST_811,
    remark: "kg/cm2 is read as kgf/cm2, a pressure, as gauges are marked.",
  }),
  pressure({
    symbol: "atm",
    ucum: ["atm"],
    words: ["atmosphere", "atmospheres"],
    name: "standard atmosphere",
    factor: 101325,
    source: NIST_811,
  }),
  pressure({
    symbol: "Torr",
    aliases: ["torr"],
    name: "torr",
    factor: 101325 / 760,
    prefixes: ["m"],
    source: NIST_811,
  }),
  ...waterColumns(),
  ...mercuryColumns(),
];

function waterColumns(): UnitEntry[] {
  return [
    pressure({
      symbol: "inH2O",
      aliases: [
        "in.H2O",
        "in H2O",
        "inWC",
        "in.WC",
        "in WC",
        "inWG",
        "inwc",
        "inwg",
        '"H2O',
        '"WC',
        "″H2O",
        "″WC",
      ],
      ucum: ["[in_i'H2O]"],
      name: "inch of water, conventional",
      factor: INCH * WATER,
      source: NIST_811,
      remark: INH2O_REMARK,
    }),
    pressure({
      symbol: "inH2O(4degC)",
      aliases: ["inH2O(39.2degF)", "inH2O(4°C)", "inH2O(39.2°F)"],
      name: "inch of water at 4 degC (39.2 degF)",
      factor: 249.082,
      source: NIST_811,
    }),
    pressure({
      symbol: "inH2O(60degF)",
      aliases: ["inH2O(60°F)"],
      name: "inch of water at 60 degF",
      factor: 248.84,
      source: NIST_811,
    }),
    pressure({
      symbol: "ftH2O",
      aliases: ["ft.H2O", "ft H2O", "ftWC"],
      name: "foot of water, conventional",
      factor: 12 * INCH * WATER,
      source: NIST_811,
    }),
    pressure({
      symbol: "mH2O",
      aliases: ["mWC", "mWG"],
      ucum: ["m[H2O]"],
      name: "metre of water, conventional",
      factor: WATER,
      source: NIST_811,
    }),
    // The column units carry their prefix inside: the alias of `mmH2O` in UCUM is `mm[H2O]`.
    pressure({
      symbol: "cmH2O",
      aliases: ["cmWC", "cmWG"],
      ucum: ["cm[H2O]"],
      name: "centimetre of water, conventional",
      factor: 0.01 * WATER,
      source: NIST_811,
    }),
    pressure({
      symbol: "cmH2O(4degC)",
      aliases: ["cmH2O(4°C)"],
      name: "centimetre of water at 4 degC",
      factor: 98.0638,
      source: NIST_811,
    }),
    pressure({
      symbol: "mmH2O",
      aliases: ["mm H2O", "mmWC", "mmWG"],
      ucum: ["mm[H2O]"],
      name: "millimetre of water, conventional",
      factor: 0.001 * WATER,
      source: NIST_811,
    }),
  ];
}

function mercuryColumns(): UnitEntry[] {
  return [
    pressure({
      symbol: "inHg",
      aliases: ["in.Hg", "in Hg", '"Hg', "″Hg"],
      ucum: ["[in_i'Hg]"],
      name: "inch of mercury, conventional",
      factor: INCH * MERCURY,
      source: NIST_811,
      remark: INHG_REMARK,
    }),
    pressure({
      symbol: "inHg(0degC)",
      aliases: ["inHg(32degF)", "inHg(0°C)", "inHg(32°F)"],
      name: "inch of mercury at 0 degC (32 degF)",
      factor: 3386.38,
      source: NIST_811,
    }),
    pressure({
      symbol: "inHg(60degF)",
      aliases: ["inHg(60°F)"],
      name: "inch of mercury at 60 degF",
      factor: 3376.85,
      source: NIST_811,
    }),
    pressure({
      symbol: "cmHg",
      ucum: ["cm[Hg]"],
      name: "centimetre of mercury, conventional",
      factor: 0.01 * MERCURY,
      source: NIST_811,
    }),
    pressure({
      symbol: "mmHg",
      aliases: ["mm Hg"],
      ucum: ["mm[Hg]"],
      name: "millimetre of mercury, conventional",
      factor: 0.001 * MERCURY,
      source: NIST_811,
    }),
    pressure({
      symbol: "m[Hg]",
      ucum: ["m[Hg]"],
      name: "metre of mercury, conventional",
      factor: MERCURY,
      source: NIST_811,
    }),
  ];
}

function pressure(entry: Omit<UnitEntry, "dimension" | "nature">): UnitEntry {
  return { ...entry, dimension: PRESSURE, nature: "pressure" };
}
