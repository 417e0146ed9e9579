/**
 * How GNU units writes our spellings. It multiplies by blanks or `*` and knows no `.`, so compounds are
 * rewritten factor by factor.
 */
const FACTORS: Readonly<Record<string, string>> = {
  Ω: "ohm",
  min: "minute",
  cd: "candela",
  mol: "mole",
  L: "liter",
  "gal(US)": "usgallon",
  "gal(imp)": "brgallon",
  "qt(US)": "usquart",
  "qt(imp)": "brquart",
  "pt(US)": "uspint",
  "pt(imp)": "brpint",
  "floz(US)": "usfluidounce",
  "floz(imp)": "brfluidounce",
  gal: "usgallon",
  qt: "usquart",
  pt: "uspint",
  floz: "usfluidounce",
  cmil: "circularmil",
  Torr: "torr",
  Btu: "btu_IT",
  P: "poise",
  V: "volt",
  A: "ampere",
  F: "farad",
  H: "henry",
  W: "watt",
  h: "hour",
  d: "day",
  wk: "week",
  in: "inch",
  t: "tonne",
  "%": "percent",
  "delta degC": "degC",
  "delta degF": "degF",
};

const WHOLE: Readonly<Record<string, string>> = {
  // GNU's rpm counts radians.
  rpm: "1/minute",
  gpm: "usgallon/minute",
  hp: "horsepower",
  // Column heights over the standard weight of water or mercury.
  inH2O: "inch H2O",
  ftH2O: "foot H2O",
  mH2O: "m H2O",
  cmH2O: "cm H2O",
  mmH2O: "mm H2O",
  inHg: "inch Hg",
  cmHg: "cm Hg",
  mmHg: "mm Hg",
  "m[Hg]": "m Hg",
  gf: "gram force",
  ozf: "ounce force",
  // The trade's pounds and kilograms that are forces.
  "lb.ft": "lbf foot",
  "lb.in": "lbf inch",
  "kg.m": "kgf m",
  "kg/cm2": "kgf/cm^2",
};

/** Spellings that GNU units lacks or defines otherwise, and why they are left out of the comparison. */
export const NOT_IN_GNU: Readonly<Record<string, string>> = {
  "inH2O(4degC)": "a rounded value of NIST SP 811; checked against its row",
  "inH2O(60degF)": "a rounded value of NIST SP 811; checked against its row",
  "cmH2O(4degC)": "a rounded value of NIST SP 811; checked against its row",
  "inHg(0degC)": "a rounded value of NIST SP 811; checked against its row",
  "inHg(60degF)": "GNU takes 13.5574 g/cm3 for mercury at 60 degF, NIST 13.5568; we follow NIST",
};

/** Temperature points, which GNU converts by functions. */
export const GNU_POINTS: Readonly<Record<string, string>> = { degC: "tempC", degF: "tempF" };

const PREFIXES = new Set(["p", "n", "µ", "m", "c", "d", "h", "k", "M", "G"]);

export function gnuExpression(spelling: string): string {
  const whole = WHOLE[spelling];
  if (whole) return whole;
  let expression = "";
  for (const piece of spelling.split(/(?<=[./])|(?=[./])/)) {
    expression += piece === "." ? "*" : piece === "/" ? "/" : gnuFactor(piece);
  }
  return expression;
}

function gnuFactor(factor: string): string {
  const known = FACTORS[factor];
  if (known) return known;
  const power = /^(.*\D)(\d)$/.exec(factor);
  if (power?.[1] && power[2]) return `(${gnuFactor(power[1])})^${power[2]}`;
  const rest = FACTORS[factor.slice(1)];
  const prefix = factor.charAt(0);
  if (rest && PREFIXES.has(prefix)) return (prefix === "µ" ? "u" : prefix) + rest;
  return factor.replace("µ", "u");
}
