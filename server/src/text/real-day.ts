/** Whether a text is a day of the calendar, written `YYYY-MM-DD` (ISO 8601). */
export function isRealDay(text: string): boolean {
  const parts = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text);
  return parts !== null && dayExists(Number(parts[1]), Number(parts[2]), Number(parts[3]));
}

function dayExists(year: number, month: number, day: number): boolean {
  return year > 0 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function writeDay(year: number, month: number, day: number): string {
  const two = (n: number) => String(n).padStart(2, "0");
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;
}

/**
 * The day that many months later; a day that the month does not have becomes its last one, so that what is
 * calibrated on 31 August for six months is due at the end of February.
 *
 * @param day a real day, `YYYY-MM-DD`
 */
export function monthsLater(day: string, months: number): string {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  const count = year * 12 + (month - 1) + months;
  const newYear = Math.floor(count / 12);
  const newMonth = (count % 12) + 1;
  return writeDay(newYear, newMonth, Math.min(date, daysInMonth(newYear, newMonth)));
}

/** Days that a text in another order or with other marks may mean, most likely first; empty where it is no day. */
export function daysMeant(text: string): readonly string[] {
  const parts = /^(\d{1,4})[-/. ]+(\d{1,2})[-/. ]+(\d{1,4})\.?$/.exec(text.trim());
  if (!parts) return [];
  const [a, b, c] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  const orders: (readonly [number, number, number])[] =
    String(parts[1]).length === 4
      ? [[a, b, c]]
      : String(parts[3]).length === 4
        ? [
            [c, b, a],
            [c, a, b],
          ]
        : [];
  const days = orders.filter((order) => dayExists(...order)).map((order) => writeDay(...order));
  return [...new Set(days)];
}
