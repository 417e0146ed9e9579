import type { Finding, NamedValue, Severity } from "../analysis/analysis.ts";
import { positionAt } from "../text/line-index.ts";
import type { Checked, Totals } from "./checked.ts";

/**
 * The machine-readable result, version 1. Its form is fixed, because programs outside rely on it: a change
 * that could break one of them needs a new version number. Lines and columns count from 1, columns in
 * UTF-16 units. What is absent is `null`.
 */
export interface JsonResult {
  readonly version: 1;
  readonly notes: readonly JsonNote[];
  readonly totals: { readonly notes: number; readonly errors: number; readonly warnings: number };
}

export interface JsonNote {
  readonly path: string;
  readonly job: string | null;
  readonly status: "open" | "done" | null;
  readonly values: readonly JsonValue[];
  readonly findings: readonly JsonFinding[];
}

export interface JsonValue {
  readonly name: string;
  readonly kind: "measured" | "derived" | "text";
  /** In `unit`, not rounded; the words of a text; null where it could not be worked out. */
  readonly value: number | string | null;
  readonly unit: string | null;
  /** Expanded, k = 2, in `unit`. */
  readonly uncertainty: number | null;
  readonly line: number;
}

export interface JsonFinding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly fixable: boolean;
}

export function jsonNote(checked: Checked): JsonNote {
  const fields = checked.analysis?.note.frontMatter.fields;
  return {
    path: checked.path,
    job: fields?.job ?? null,
    status: fields?.status ?? null,
    values: (checked.analysis?.values ?? []).map(jsonValue),
    findings: checked.findings.map((finding) => jsonFinding(finding, checked)),
  };
}

function jsonValue({ name, kind, shown, line }: NamedValue): JsonValue {
  const place = { line: line + 1 };
  if (shown === undefined) return { name, kind, value: null, unit: null, uncertainty: null, ...place };
  if (shown.kind !== "quantity")
    return { name, kind, value: shown.text, unit: null, uncertainty: null, ...place };
  return {
    name,
    kind,
    value: shown.value,
    unit: shown.unit || null,
    uncertainty: shown.uncertainty,
    ...place,
  };
}

function jsonFinding(finding: Finding, { lines }: Checked): JsonFinding {
  const start = positionAt(lines, finding.range.from);
  const end = positionAt(lines, finding.range.to);
  return {
    rule: finding.rule,
    severity: finding.severity,
    message: finding.message,
    line: start.line + 1,
    column: start.column + 1,
    endLine: end.line + 1,
    endColumn: end.column + 1,
    fixable: finding.fixes.some((fix) => fix.edits.length > 0),
  };
}

const jsonTotals = ({ notes, errors, warnings }: Totals): JsonResult["totals"] => ({
  notes,
  errors,
  warnings,
});

/**
 * What stands round the notes when the result is written piece by piece, so that ten thousand notes need not
 * be kept until the last is read. One note stands on one line.
 */
export const jsonPieces = {
  head: '{"version":1,"notes":[\n',
  between: ",\n",
  tail: (totals: Totals): string => `\n],"totals":${JSON.stringify(jsonTotals(totals))}}\n`,
};
