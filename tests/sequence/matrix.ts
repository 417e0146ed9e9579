import { describe, expect, it } from "vitest";
import { findingsOf, type Job } from "./job.ts";

/** What is expected of a job when one line of it is left out, or comes before the line above it. */
export interface Matrix extends Omit<Job, "steps"> {
  /**
   * A clean job, line by line. Behind each line stands by hand what its loss brings, and what it brings when it
   * is done before the line above; a date line has neither.
   */
  readonly rows: readonly Row[];
}

/** The line; findings when it is left out; findings when it changes places with the step above it. */
export type Row = readonly [line: string, left: readonly string[], swapped?: readonly string[]];

const isDate = (line: string): boolean => /^\d{4}-/.test(line);
const timeOf = (line: string): string => line.slice(0, 5);
const rest = (line: string): string => line.slice(5);

/** The steps at `at` and above it in each other's place; times stay where they are. */
function swap(lines: readonly string[], at: number): readonly string[] {
  const above = lines.findLastIndex((line, i) => i < at && !isDate(line));
  const changed = [...lines];
  changed[above] = timeOf(lines[above] ?? "") + rest(lines[at] ?? "");
  changed[at] = timeOf(lines[at] ?? "") + rest(lines[above] ?? "");
  return changed;
}

export function testMatrix(title: string, { rows, ...job }: Matrix): void {
  const lines = rows.map(([line]) => line);
  describe(title, () => {
    it("is clean as it stands", () => {
      expect(findingsOf({ ...job, steps: lines })).toEqual([]);
    });

    const steps = rows.flatMap((row, at) => (isDate(row[0]) ? [] : [{ row, at, line: row[0] }]));
    it.each(steps)("without `$line`", ({ row, at }) => {
      expect(findingsOf({ ...job, steps: lines.filter((_, i) => i !== at) })).toEqual(row[1]);
    });

    it.each(steps.slice(1))("with `$line` before the step above it", ({ row, at }) => {
      expect(findingsOf({ ...job, steps: swap(lines, at) })).toEqual(row[2] ?? []);
    });
  });
}
