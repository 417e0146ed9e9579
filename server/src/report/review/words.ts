import { add, addTo, NOTHING } from "../checked.ts";
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

/** The last line of a review. */
export function reviewTotals(reviews: readonly NoteReview[], baseline: Baseline | undefined): string {
  if (reviews.length === 0 && (baseline?.gone.length ?? 0) === 0) {
    return baseline === undefined ? "No job note was found." : `No job note changed since ${baseline.name}.`;
  }
  const { errors, warnings, remarks } = reviews.reduce(
    (totals, { checked }) => add(totals, addTo(NOTHING, checked)),
    NOTHING,
  );
  const accepted = reviews.reduce((sum, one) => sum + one.accepted.length, 0);
  const own = reviews.reduce(
    (sum, { topics }) => topics.reduce((all, topic) => all + topic.remarks.length, sum),
    0,
  );
  const parts = [
    count(errors, "error", "errors"),
    count(warnings, "warning", "warnings"),
    count(remarks, "for information", "for information"),
    count(own, "remark", "remarks"),
    count(accepted, "accepted with a reason", "accepted with a reason"),
  ].filter((part) => part !== "");
  const notes = count(reviews.length, "job note", "job notes") || "No job note";
  return `Reviewed ${notes}: ${parts.length === 0 ? "nothing to report" : parts.join(", ")}.`.replace(
    "Reviewed No",
    "Reviewed no",
  );
}
