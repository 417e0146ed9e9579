/** Rows of numbers, told by their place so that a long log need not be copied. */
export interface Rows {
  readonly count: number;
  x(row: number): number;
  y(row: number): number;
}

/** A line needs no more than a few points for each unit of the plot's width. */
export const MOST_POINTS = 1500;

/**
 * Of a long log the first and the last row, and the lowest and the highest of every stretch between, so that no
 * spike is lost and the plot begins and ends where the log does.
 */
export function thinned({ count, x, y }: Rows): (readonly [x: number, y: number])[] {
  const kept: (readonly [number, number])[] = [];
  const keep = (row: number): void => {
    kept.push([x(row), y(row)]);
  };
  if (count <= MOST_POINTS) {
    for (let row = 0; row < count; row++) keep(row);
    return kept;
  }
  keep(0);
  const stretch = Math.ceil((2 * (count - 2)) / (MOST_POINTS - 2));
  for (let from = 1; from < count - 1; from += stretch) {
    let low = from;
    let high = from;
    for (let row = from; row < Math.min(from + stretch, count - 1); row++) {
      if (y(row) < y(low)) low = row;
      if (y(row) > y(high)) high = row;
    }
    keep(Math.min(low, high));
    if (low !== high) keep(Math.max(low, high));
  }
  keep(count - 1);
  return kept;
}

/** Whether each row stands at the place of the one before it or further on. */
export function goesForward({ count, x }: Rows): boolean {
  for (let row = 1; row < count; row++) if (x(row) < x(row - 1)) return false;
  return true;
}
