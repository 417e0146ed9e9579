import type { Analysis, Finding } from "../analysis/analysis.ts";
import type { LineIndex } from "../text/line-index.ts";

/** One file that was checked, ready to be reported. */
export interface Checked {
  /** Relative to the folder that the command was started in, with forward slashes. */
  readonly path: string;
  readonly text: string;
  readonly lines: LineIndex;
  /** In the order of the text. */
  readonly findings: readonly Finding[];
  /** Undefined for a shop file. */
  readonly analysis?: Analysis;
}

/** What all files of one run come to. Shop files add to the findings, not to the notes. */
export interface Totals {
  readonly notes: number;
  readonly errors: number;
  readonly warnings: number;
  /** Findings that only inform. */
  readonly remarks: number;
  /** Procedures of the notes whose work goes on or is not in order, by id; their cautions are shown. */
  readonly procedures: readonly string[];
}

export const NOTHING: Totals = { notes: 0, errors: 0, warnings: 0, remarks: 0, procedures: [] };

export function addTo(totals: Totals, checked: Checked): Totals {
  let { errors, warnings, remarks } = totals;
  for (const { severity } of checked.findings) {
    if (severity === "error") errors++;
    else if (severity === "warning") warnings++;
    else remarks++;
  }
  const fields = checked.analysis?.note.frontMatter.fields;
  const inOrder = fields?.status === "done" && !checked.findings.some(({ severity }) => severity !== "info");
  const own = fields?.procedure === undefined || inOrder ? [] : [fields.procedure];
  return {
    notes: totals.notes + (checked.analysis === undefined ? 0 : 1),
    errors,
    warnings,
    remarks,
    procedures: both(totals.procedures, own),
  };
}

const both = (some: readonly string[], more: readonly string[]): readonly string[] =>
  more.every((id) => some.includes(id)) ? some : [...new Set([...some, ...more])];

export function add(one: Totals, other: Totals): Totals {
  return {
    notes: one.notes + other.notes,
    errors: one.errors + other.errors,
    warnings: one.warnings + other.warnings,
    remarks: one.remarks + other.remarks,
    procedures: both(one.procedures, other.procedures),
  };
}
