import { isComparison } from "../analysis/arithmetic.ts";
import type { Comparison, Expression } from "../language/syntax.ts";
import { comparesToPeriod, readPeriod, turned } from "./dates.ts";
import { isField, isMeasuredField } from "./fields.ts";

/** Case and double blanks make no difference between words. */
export const sameWords = (a: string, b: string): boolean => plain(a) === plain(b);

const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, " ");

/** The words that an expression writes out; undefined for anything else. */
export const textOf = (node: Expression): string | undefined =>
  node.kind === "text" ? node.text : undefined;

type Binary = Expression & { readonly kind: "binary" };

/** Whether a comparison is one of words or days rather than of numbers. */
export const isWords = (node: Binary): boolean =>
  isComparison(node.operator) && (holdsWords(node.left) || holdsWords(node.right));

const holdsWords = (node: Expression): boolean =>
  node.kind === "text" || (node.kind === "name" && isField(node.name.key) && !isMeasuredField(node.name.key));

/** Compares words, or a day with a day, month or year. Undefined where a side says nothing. */
export function compareWords(
  { operator, left, right }: Binary,
  textsOf: (side: Expression) => readonly string[] | undefined,
): boolean | undefined {
  if (!isComparison(operator)) return undefined;
  const [a, b] = [textsOf(left), textsOf(right)];
  if (a === undefined || b === undefined || a.length === 0 || b.length === 0) return undefined;
  return a.some((one) => b.some((other) => compareText(one, operator, other)));
}

function compareText(one: string, operator: Comparison, other: string): boolean {
  const right = readPeriod(other);
  const left = readPeriod(one);
  if (left && right) {
    // The side that is one day is held against the other, which may be a month or a year.
    return left.first === left.last
      ? comparesToPeriod(one.trim(), operator, right)
      : comparesToPeriod(other.trim(), turned[operator], left);
  }
  if (operator === "==") return sameWords(one, other);
  if (operator === "!=") return !sameWords(one, other);
  return false;
}
