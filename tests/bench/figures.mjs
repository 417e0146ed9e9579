// Small sums and plain tables for the measurements.

export function quantile(numbers, share) {
  const sorted = [...numbers].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

export const median = (numbers) => quantile(numbers, 0.5);

/** A number with about three figures. */
export const figures = (number) => (number >= 100 ? number.toFixed(0) : number.toPrecision(3));

export const times = (ratio) => (ratio >= 0.1 ? `${figures(ratio)} x` : `1/${figures(1 / ratio)}`);

export const verdict = (met) => (met === undefined ? "" : met ? "met" : "missed");

/** Prints a table with a line under its head; the first column is set left, the others right. */
export function printTable(title, head, rows) {
  const all = [head, ...rows].map((row) => row.map(String));
  const widths = head.map((_, column) => Math.max(...all.map((row) => row[column].length)));
  const line = (row) =>
    row
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column])))
      .join("   ")
      .trimEnd();
  console.log(`\n${title}`);
  console.log(line(all[0]));
  console.log(widths.map((width) => "-".repeat(width)).join("   "));
  for (const row of all.slice(1)) console.log(line(row));
}
