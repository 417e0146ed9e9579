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

/** One row of the printed table; `print-matrix.mjs` picks it out of the test's report. */
export interface MatrixEntry {
  readonly procedure: string;
  readonly job: string;
  readonly change: string;
  readonly expected: readonly string[];
  readonly got: readonly string[];
}

declare module "vitest" {
  interface TaskMeta {
    matrix?: MatrixEntry;
  }
}

const isDate = (line: string): boolean => /^\d{4}-/.test(line);
const timeOf = (line: string): string => line.slice(0, 5);
const rest = (line: string): string => line.slice(5);
const stepIn = (line: string): string => rest(line).replace(/:.*$/, "").trim();

/** Where the step above the line at `at` stands. */
const above = (lines: readonly string[], at: number): number =>
  lines.findLastIndex((line, i) => i < at && !isDate(line));

/** The steps at `at` and above it in each other's place; times stay where they are. */
function swap(lines: readonly string[], at: number): readonly string[] {
  const before = above(lines, at);
  const changed = [...lines];
  changed[before] = timeOf(lines[before] ?? "") + rest(lines[at] ?? "");
  changed[at] = timeOf(lines[at] ?? "") + rest(lines[before] ?? "");
  return changed;
}

export function testMatrix(title: string, { rows, ...job }: Matrix): void {
  const lines = rows.map(([line]) => line);
  const entry = (change: string, steps: readonly string[], expected: readonly string[]): MatrixEntry => ({
    procedure: job.procedure,
    job: title,
    change,
    expected,
    got: findingsOf({ ...job, steps }),
  });

  describe(title, () => {
    it("is clean as it stands", ({ task }) => {
      const matrix = entry("as it stands", lines, []);
      task.meta.matrix = matrix;
      expect(matrix.got).toEqual([]);
    });

    const steps = rows.flatMap((row, at) => (isDate(row[0]) ? [] : [{ row, at, line: row[0] }]));
    it.for(steps)("without `$line`", ({ row, at, line }, { task }) => {
      const without = lines.filter((_, i) => i !== at);
      const matrix = entry(`without \`${stepIn(line)}\``, without, row[1]);
      task.meta.matrix = matrix;
      expect(matrix.got).toEqual(matrix.expected);
    });

    it.for(steps.slice(1))("with `$line` before the step above it", ({ row, at, line }, { task }) => {
      const change = `\`${stepIn(line)}\` before \`${stepIn(lines[above(lines, at)] ?? "")}\``;
      const matrix = entry(change, swap(lines, at), row[2] ?? []);
      task.meta.matrix = matrix;
      expect(matrix.got).toEqual(matrix.expected);
    });
  });
}
