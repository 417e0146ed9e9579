import { deviation, mean, quantileSorted } from "d3-array";

/** What a group of numbers comes to. */
export interface Statistics {
  readonly count: number;
  readonly mean: number;
  /** Sample standard deviation; undefined for a single number. */
  readonly spread: number | undefined;
  readonly least: number;
  /** Quantiles by linear interpolation between the sorted numbers (type 7 of Hyndman and Fan, 1996). */
  readonly lowerQuarter: number;
  readonly median: number;
  readonly upperQuarter: number;
  readonly greatest: number;
}

export function statisticsOf(numbers: readonly number[]): Statistics | undefined {
  const average = mean(numbers);
  if (average === undefined) return undefined;
  const sorted = [...numbers].sort((a, b) => a - b);
  const at = (share: number): number => quantileSorted(sorted, share) ?? Number.NaN;
  return {
    count: numbers.length,
    mean: average,
    spread: deviation(numbers),
    least: at(0),
    lowerQuarter: at(0.25),
    median: at(0.5),
    upperQuarter: at(0.75),
    greatest: at(1),
  };
}

/**
 * En number of two results (ISO 13528 and ISO/IEC 17043, from memory): their difference over its expanded
 * uncertainty (k = 2), which is the root sum of squares of theirs where they share nothing. The two agree when it
 * lies between -1 and 1. Undefined where nothing is uncertain.
 */
export const enNumber = (difference: number, uncertainty: number): number | undefined =>
  uncertainty > 0 ? difference / uncertainty : undefined;
