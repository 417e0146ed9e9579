import { addTo, NOTHING, type Totals } from "../checked.ts";
import { count } from "../readable.ts";
import type { NoteChange } from "./compare.ts";
import type { Baseline, NoteReview } from "./review.ts";

/** `job 2031-0042, done, repaired, by tech 3`. */
export function standing({ analysis }: NoteReview["checked"]): string {
  const { job, status, outcome, by } = analysis.note.frontMatter.fields;
  return [`job ${job ?? "without a number"}`, status, outcome, by && `by ${by}`].filter(Boolean).join(", ");
}

/** `line 3`, `lines 3, 5 and 8`; a long list is cut. */
export function inLines(lines: readonly number[]): string {
  const most = 8;
  const shown = lines.slice(0, most).map(String);
  if (lines.length > most) shown.push(`${lines.length - most} more`);
  if (shown.length === 1) return `line ${shown[0]}`;
  return `lines ${shown.slice(0, -1).join(", ")} and ${shown[shown.length - 1]}`;
}

/** What changed, in one sentence. */
export function changeSays({ values, fresh, added, mended, known }: NoteChange): string {
  const parts = [
    fresh ? "a new note" : "",
    count(values.length, "value changed", "values changed"),
    count(added.length, "finding new", "findings new"),
    count(mended.length, "finding mended", "findings mended"),
    count(known.length, "finding as before", "findings as before"),
  ].filter((part) => part !== "");
  return `${parts.length === 0 ? "nothing that the checker sees changed" : parts.join(", ")}.`;
}

/** What all notes of a review come to; kept instead of the notes themselves, of which there may be thousands. */
export interface ReviewTotals {
  readonly notes: number;
  readonly findings: Totals;
  readonly remarks: number;
  readonly accepted: number;
}

export const NO_REVIEWS: ReviewTotals = { notes: 0, findings: NOTHING, remarks: 0, accepted: 0 };

export function addReview(totals: ReviewTotals, { checked, topics, accepted }: NoteReview): ReviewTotals {
  return {
    notes: totals.notes + 1,
    findings: addTo(totals.findings, checked),
    remarks: topics.reduce((sum, { remarks }) => sum + remarks.length, totals.remarks),
    accepted: totals.accepted + accepted.length,
  };
}

/** What changed besides notes, in sentences with their paths apart. */
export function besides(baseline: Baseline | undefined): { readonly path: string; readonly says: string }[] {
  return [
    ...(baseline?.gone ?? []).map((path) => ({ path, says: "is no more there." })),
    ...(baseline?.shops ?? []).map((path) => ({
      path,
      says: "changed. It may change what notes come to that did not; `check` looks at all of them.",
    })),
  ];
}

/** The last line of a review. */
export function reviewTotals(totals: ReviewTotals, baseline: Baseline | undefined): string {
  if (totals.notes === 0 && (baseline?.gone.length ?? 0) === 0) {
    return baseline === undefined ? "No job note was found." : `No job note changed since ${baseline.name}.`;
  }
  const { errors, warnings, remarks } = totals.findings;
  const parts = [
    count(errors, "error", "errors"),
    count(warnings, "warning", "warnings"),
    count(remarks, "for information", "for information"),
    count(totals.remarks, "remark", "remarks"),
    count(totals.accepted, "accepted with a reason", "accepted with a reason"),
  ].filter((part) => part !== "");
  const notes = count(totals.notes, "job note", "job notes") || "no job note";
  return `Reviewed ${notes}: ${parts.length === 0 ? "nothing to report" : parts.join(", ")}.`;
}
