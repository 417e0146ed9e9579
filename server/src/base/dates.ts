import type { Comparison } from "../language/syntax.ts";
import { isRealDay } from "../text/real-day.ts";

const DATE = /^(\d{4})(?:-(\d\d))?(?:-(\d\d))?$/;

/** A day, month or year (`2031-03-04`, `2031-03`, `2031`) by its first and last day; undefined for other words. */
export function readPeriod(text: string): { readonly first: string; readonly last: string } | undefined {
  const match = DATE.exec(text.trim());
  if (!match) return undefined;
  const [, year = "", month, day] = match;
  if (month === undefined) return { first: `${year}-01-01`, last: `${year}-12-31` };
  if (day !== undefined) {
    const whole = `${year}-${month}-${day}`;
    return isRealDay(whole) ? { first: whole, last: whole } : undefined;
  }
  if (Number(month) < 1 || Number(month) > 12) return undefined;
  const last = new Date(Date.UTC(Number(year), Number(month), 0)).getUTCDate();
  return { first: `${year}-${month}-01`, last: `${year}-${month}-${last}` };
}

/** Whether a day lies before, in or after a period. Days as ISO 8601 writes them sort as text. */
export function comparesToPeriod(
  day: string,
  operator: Comparison,
  { first, last }: { readonly first: string; readonly last: string },
): boolean {
  switch (operator) {
    case "<":
      return day < first;
    case "<=":
      return day <= last;
    case ">":
      return day > last;
    case ">=":
      return day >= first;
    case "==":
      return day >= first && day <= last;
    case "!=":
      return day < first || day > last;
  }
}

/** The same comparison seen from the other side. */
export const turned: Readonly<Record<Comparison, Comparison>> = {
  "<": ">",
  "<=": ">=",
  ">": "<",
  ">=": "<=",
  "==": "==",
  "!=": "!=",
};
