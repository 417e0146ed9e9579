import type { Exponents } from "../units/dimension.ts";
import type { Scale } from "../units/unit.ts";

/**
 * What is kept of a note for finding, comparing and exporting it: a small record of plain data, so that it
 * can be written to a cache, sent between threads and read back as it was.
 */
export interface NoteRecord {
  /** As shown, with forward slashes. */
  readonly path: string;
  /** Front matter by name, as a condition names it: `subject`, `reviewed by`, `vehicle year`. */
  readonly fields: Readonly<Record<string, string | readonly string[]>>;
  /** `YYYY-MM-DD`: the front matter's date, else the first day of the steps. */
  readonly day?: string;
  readonly values: readonly ValueRecord[];
  /** Columns of its series; absent where it has none. */
  readonly columns?: readonly ColumnRecord[];
  readonly steps: readonly StepRecord[];
  readonly findings: readonly FindingRecord[];
  /** Units of its shop's own, as one text; absent for a shop without. */
  readonly units?: string;
  /** The prose and the remarks as distinct words, in lower case, with blanks between. */
  readonly words: string;
}

export interface ValueRecord {
  /** As written, without the label of its block. */
  readonly name: string;
  /** Label of its block; absent for a block without one. */
  readonly label?: string;
  readonly kind: "measured" | "derived" | "text";
  /** A number in `unit`, not rounded; the words of a text; absent where it could not be worked out. */
  readonly value?: number | string | boolean;
  /** Absent for words, truths and plain numbers. */
  readonly unit?: string;
  /** What that unit is, where it is one of the shop's own. */
  readonly unitIs?: UnitRecord;
  /** Expanded uncertainty, k = 2, in steps of `unit`. */
  readonly uncertainty?: number;
  /** Repeated readings in `unit`, in the order in which they were taken. */
  readonly readings?: readonly number[];
  /** The instrument that it was read from, as the note names it. */
  readonly instrument?: string;
  /** Line in the note, from 1. */
  readonly line: number;
}

/** A unit of a shop's own, in SI: `SI value = number * factor`. */
export interface UnitRecord {
  readonly factor: number;
  readonly exponents: Exponents;
  readonly scale: Scale;
}

/** A column of a series by its figures. */
export interface ColumnRecord {
  /** With the series' name before it: `decay p`. */
  readonly name: string;
  /** The column that it goes over, mostly the time; absent for a series of one column. */
  readonly over?: string;
  readonly count: number;
  /**
   * `mean`, `spread`, `least`, `greatest`, and `slope` over the other column, as the functions of these names
   * give them; `first` and `last` row. Absent where it cannot be worked out.
   */
  readonly figures: Readonly<Record<string, ColumnFigure>>;
  /** Line of the series' header in the note, from 1. */
  readonly line: number;
}

export type ColumnFigure = { readonly value: number } & Pick<ValueRecord, "unit" | "uncertainty">;

export interface StepRecord {
  /** The procedure's name for the step, whatever alias the note uses; as written where it has none. */
  readonly step: string;
  readonly place?: string;
  readonly day?: string;
  /** Minutes after midnight; absent for a step still to do. */
  readonly at?: number;
  /** Minutes from its start to the end that it says (`until`), else to the next step. */
  readonly minutes?: number;
  readonly outcome?: string;
  readonly remark?: string;
  readonly line: number;
}

export interface FindingRecord {
  readonly rule: string;
  readonly severity: "error" | "warning" | "info";
  readonly message: string;
  readonly line: number;
  /** The reason that the note gives for letting it stand. */
  readonly accepted?: string;
}

/** The name in the note's one space, as a condition may write it: with the label before it. */
export const fullName = ({ name, label }: Pick<ValueRecord, "name" | "label">): string =>
  label === undefined ? name : `${label} ${name}`;
