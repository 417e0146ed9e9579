import { type Dimension, NONE, over, times, toPower } from "./dimension.ts";
import type { TableHit } from "./unit-table.ts";

/** Where the units come from of which a spelling is put together. */
export interface UnitSource {
  /** A spelling that stands for one unit, folded. */
  readonly find: (folded: string) => TableHit | undefined;
  /** Spellings beyond the table's that a mistyped unit may have meant. */
  readonly also: readonly string[];
}

/** What a product comes to. */
export interface Product {
  readonly factor: number;
  readonly dimension: Dimension;
  readonly remarks: readonly string[];
}

/** The part of the spelling that cannot be read. */
export interface Unread {
  readonly from: number;
  readonly to: number;
}

const ONE: Product = { factor: 1, dimension: NONE, remarks: [] };
/** Deeper brackets than any unit has; stops a run of brackets from running away. */
const DEEPEST = 8;

/** Reads products, quotients, powers and brackets; `folded` as `fold` makes it. */
export function readCompound(source: UnitSource, folded: string): Product | Unread {
  if (folded.length === 0) return { from: 0, to: 0 };
  const end = groupEnd(folded, 0);
  if (end < folded.length) return { from: end, to: folded.length };
  const product = readGroup(source, folded, 0, folded.length, 0);
  // A row of high powers can leave the range of numbers; such a unit converts nothing.
  const usable = "from" in product || (product.factor > 0 && Number.isFinite(product.factor));
  return usable ? product : { from: 0, to: folded.length };
}

function readGroup(
  source: UnitSource,
  text: string,
  from: number,
  to: number,
  depth: number,
): Product | Unread {
  if (depth > DEEPEST) return { from, to };
  // UCUM writes `/min` for `1/min`.
  let divide = text.charAt(from) === "/";
  let at = divide ? from + 1 : from;
  let product = ONE;
  for (;;) {
    const end = factorEnd(text, at, to);
    if (end === at) return { from: Math.max(from, at - 1), to: Math.min(to, at + 1) };
    const factor = readFactor(source, text, at, end, depth);
    if ("from" in factor) return factor;
    product = combine(product, factor, divide);
    if (end === to) return product;
    divide = text.charAt(end) === "/";
    at = end + 1;
  }
}

function combine(left: Product, right: Product, divide: boolean): Product {
  return {
    factor: divide ? left.factor / right.factor : left.factor * right.factor,
    dimension: divide ? over(left.dimension, right.dimension) : times(left.dimension, right.dimension),
    remarks: right.remarks.length === 0 ? left.remarks : [...new Set([...left.remarks, ...right.remarks])],
  };
}

function readFactor(
  source: UnitSource,
  text: string,
  from: number,
  to: number,
  depth: number,
): Product | Unread {
  const whole = readBase(source, text, from, to, depth);
  if (whole) return whole;
  const power = powerAt(text, from, to);
  if (power.value !== 0 && power.from > from) {
    const base = readBase(source, text, from, power.from, depth);
    if (base && !("from" in base)) return raise(base, power.value);
    if (base) return base;
    return { from, to: power.from };
  }
  return { from, to };
}

/** A unit of the table, the number one, or a bracketed group; undefined when it is none of these. */
function readBase(
  source: UnitSource,
  text: string,
  from: number,
  to: number,
  depth: number,
): Product | Unread | undefined {
  const part = text.slice(from, to);
  if (part === "1") return ONE;
  const hit = source.find(part);
  if (hit) {
    const { entry, prefix } = hit;
    return {
      factor: entry.factor * prefix,
      dimension: entry.dimension,
      remarks: entry.remark ? [entry.remark] : [],
    };
  }
  if (part.charAt(0) === "(" && part.endsWith(")") && groupEnd(text, from + 1) === to - 1) {
    return readGroup(source, text, from + 1, to - 1, depth + 1);
  }
  return undefined;
}

function raise(base: Product, power: number): Product {
  return { ...base, factor: base.factor ** power, dimension: toPower(base.dimension, power) };
}

/** One digit, perhaps with a minus and a `^` before it. No unit of the trade needs a power above nine. */
function powerAt(text: string, from: number, to: number): { readonly from: number; readonly value: number } {
  const digit = text.charCodeAt(to - 1) - 48;
  if (digit < 1 || digit > 9) return { from: to, value: 0 };
  let start = to - 1;
  const negative = text.charAt(start - 1) === "-";
  if (negative) start--;
  if (text.charAt(start - 1) === "^") start--;
  return { from: Math.max(start, from), value: negative ? -digit : digit };
}

/** End of the factor that starts at `from`: the next `.` or `/` outside all brackets. */
function factorEnd(text: string, from: number, to: number): number {
  let depth = 0;
  for (let i = from; i < to; i++) {
    const character = text.charAt(i);
    if (character === "(" || character === "[") depth++;
    else if (character === ")" || character === "]") depth--;
    else if (depth === 0 && (character === "." || character === "/")) return i;
  }
  return to;
}

/** Place of the first closing bracket that nothing opened; the text's end when there is none. */
function groupEnd(text: string, from: number): number {
  let depth = 0;
  for (let i = from; i < text.length; i++) {
    const character = text.charAt(i);
    if (character === "(" || character === "[") depth++;
    else if (character === ")" || character === "]") depth--;
    if (depth < 0) return i;
  }
  return text.length;
}
