import type { Dimension } from "./dimension.ts";
import { TEMPERATURE } from "./dimension.ts";
import type { Unit } from "./unit.ts";
import { PREFIX_FACTORS } from "./unit-entry.ts";
import { readUnit, scaleSuffix } from "./unit-reader.ts";
import { fold, lookUp } from "./unit-table.ts";

/**
 * The UCUM code (case sensitive) of a unit as somebody wrote it, for programs that do not read the trade's
 * spellings. Gauge and absolute pressures have one code, since UCUM does not tell them apart. Undefined where
 * UCUM has no code that says exactly this: a difference in degF, an inch of water at a temperature.
 */
export function ucumCode(unit: Unit): string | undefined {
  if (unit.spelling === "") return "1";
  if (unit.scale === "difference")
    return unit.factor === 1 && unit.dimension === TEMPERATURE ? "K" : undefined;
  const known = codes.get(unit.spelling);
  if (known !== undefined || codes.has(unit.spelling)) return known;
  const code = findCode(unit);
  if (codes.size < MOST) codes.set(unit.spelling, code);
  return code;
}

const codes = new Map<string, string | undefined>();
const MOST = 4096;

function findCode(unit: Unit): string | undefined {
  const folded = fold(unit.spelling).replaceAll("^", "");
  const suffix = scaleSuffix(folded);
  const code = codeOf(suffix ? folded.slice(0, suffix.from) : folded);
  if (code === undefined) return undefined;
  // What was put together has to mean the same; else it is better to give none.
  const read = readUnit(code);
  const same =
    read.ok &&
    read.unit.dimension === unit.dimension &&
    read.unit.offset === unit.offset &&
    Math.abs(read.unit.factor / unit.factor - 1) < 1e-12;
  return same ? code : undefined;
}

/** Units of the trade that UCUM writes in another way; our table gives codes only for units of the same name. */
const OTHERWISE: ReadonlyMap<string, string> = new Map([
  ["cc", "cm3"],
  ["kg/cm2", "kgf/cm2"],
  ["km/h", "km/h"],
  ["kg.m", "kgf.m"],
  ["gal", "[gal_us]"],
  ["qt", "[qt_us]"],
  ["pt", "[pt_us]"],
  ["floz", "[foz_us]"],
  ["gpm", "[gal_us]/min"],
  ["lb.ft", "[lbf_av].[ft_i]"],
  ["lb.in", "[lbf_av].[in_i]"],
]);

function codeOf(text: string): string | undefined {
  const whole = codeOfTable(text);
  if (whole !== undefined) return whole;
  const hit = lookUp(text);
  // A name of the table means what the table says, even where it looks like a product of others.
  if (hit !== undefined) return hit.prefix === 1 ? OTHERWISE.get(hit.entry.symbol) : undefined;
  const pieces = piecesOf(text);
  if (pieces === undefined) return undefined;
  let code = "";
  for (const piece of pieces) {
    const power = /^(.*?)(-?[1-9])?$/.exec(piece);
    const base =
      piece === "1"
        ? piece
        : piece.length === 1 && (piece === "." || piece === "/")
          ? piece
          : piece.startsWith("(")
            ? bracketed(piece)
            : (codeOfTable(piece) ?? raised(power?.[1] ?? "", power?.[2] ?? ""));
    if (base === undefined) return undefined;
    code += base;
  }
  return code;
}

const bracketed = (piece: string): string | undefined => {
  const inner = codeOf(piece.slice(1, -1));
  return inner === undefined ? undefined : `(${inner})`;
};

function raised(base: string, power: string): string | undefined {
  const code = codeOfTable(base);
  // A code that holds a sign of its own, such as N.m, takes a power in brackets only.
  if (code === undefined || power === "") return code;
  return /[./]/.test(code) ? `(${code})${power}` : `${code}${power}`;
}

const LETTERS: ReadonlyMap<number, string> = new Map(
  Object.entries(PREFIX_FACTORS).map(([letter, factor]) => [factor, letter === "µ" ? "u" : letter]),
);

function codeOfTable(text: string): string | undefined {
  const hit = lookUp(text);
  const code = hit?.entry.ucum?.[0];
  if (hit === undefined || code === undefined) return undefined;
  return hit.prefix === 1 ? code : `${LETTERS.get(hit.prefix) ?? ""}${code}`;
}

/** Factors with the signs between them. */
function piecesOf(text: string): string[] | undefined {
  const pieces: string[] = [];
  let depth = 0;
  let from = 0;
  for (let i = 0; i < text.length; i++) {
    const sign = text.charAt(i);
    if (sign === "(" || sign === "[") depth++;
    else if (sign === ")" || sign === "]") depth--;
    else if (depth === 0 && (sign === "." || sign === "/")) {
      if (i > from) pieces.push(text.slice(from, i));
      pieces.push(sign);
      from = i + 1;
    }
  }
  if (depth !== 0 || from >= text.length) return undefined;
  pieces.push(text.slice(from));
  return pieces.length > 1 || /[1-9]$/.test(text) || text.startsWith("(") ? pieces : undefined;
}

const BASE = ["m", "kg", "s", "A", "K", "mol", "cd"];

/** UCUM code of the SI unit of a dimension, as `m-1.kg.s-2`; `1` for a plain number. */
export function siCode({ exponents }: Dimension): string {
  const factors = BASE.flatMap((base, i) => {
    const power = exponents[i] ?? 0;
    return power === 0 ? [] : [power === 1 ? base : `${base}${power}`];
  });
  return factors.length === 0 ? "1" : factors.join(".");
}
