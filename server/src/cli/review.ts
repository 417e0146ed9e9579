import { version } from "../../../package.json";
import { harmless } from "../report/display-width.ts";
import { compare } from "../report/review/compare.ts";
import { type Baseline, type NoteReview, reviewNote } from "../report/review/review.ts";
import { addReview, NO_REVIEWS, type ReviewTotals } from "../report/review/words.ts";
import { asTheyLie, changedSince } from "./changed-since.ts";
import { type CheckedNote, NoteReader, shownPath } from "./note-reader.ts";
import { EXIT, type ExitStatus, lookFor, type Outside } from "./outside.ts";
import { styleOf } from "./report-form.ts";
import type { REVIEW_FORMATS } from "./report-formats.ts";
import { ruleTexts } from "./rule-texts.ts";

export interface ReviewOptions {
  readonly format: (typeof REVIEW_FORMATS)[number];
  /** A revision, or `A..B` and `A...B` as git writes them. */
  readonly since?: string;
}

/** `witness-mark review`: notes as somebody reviews them who answers for their writer. */
export function review(asked: readonly string[], options: ReviewOptions, outside: Outside): ExitStatus {
  const { folder, libraries } = outside;
  const paths = asked.length === 0 ? ["."] : asked;
  const found =
    options.since === undefined ? asTheyLie(paths, outside) : changedSince(options.since, paths, outside);
  if (!found.ok) {
    outside.err(`${harmless(found.reason)}\n`);
    return EXIT.failed;
  }
  const { notes, source, before, baseline, failures } = found.value;
  const writer = writerOf(options.format, outside, baseline);
  const reader = new NoteReader(folder, libraries, source);
  const earlier = before && new NoteReader(folder, libraries, before);
  let totals = NO_REVIEWS;
  let failed = failures.length > 0;
  let errors = false;
  for (const { path, reason } of failures) outside.err(`${harmless(path)} ${reason}.\n`);
  outside.out(writer.start());
  for (const { path, was, named } of notes) {
    const read = reader.note(path);
    if (read.kind === "failure" || (read.kind === "no job" && read.unreadable !== undefined && named)) {
      failed = true;
      const reason = read.kind === "failure" ? read.reason : read.unreadable;
      outside.err(`${harmless(shownPath(path, folder))} ${reason}.\n`);
      continue;
    }
    if (read.kind === "no job") {
      if (named)
        outside.err(
          `${harmless(shownPath(path, folder))} is no job note: its front matter has no \`job:\`.\n`,
        );
      continue;
    }
    const change = earlier && compare(noteAt(earlier, was), read.note);
    // What was wrong before the revision is somebody else's to mend; it stops nobody's work.
    const counting = change?.added ?? read.note.findings;
    errors ||= counting.some(({ severity }) => severity === "error");
    const done = reviewNote(read.note, change);
    totals = addReview(totals, done);
    outside.out(writer.note(done));
  }
  outside.out(writer.end(totals));
  if (failed) return EXIT.failed;
  return errors ? EXIT.errors : EXIT.clear;
}

function noteAt(reader: NoteReader, path: string | undefined): CheckedNote | undefined {
  if (path === undefined) return undefined;
  const read = reader.note(path);
  return read.kind === "note" ? read.note : undefined;
}

interface ReviewWriter {
  start(): string;
  note(review: NoteReview): string;
  end(totals: ReviewTotals): string;
}

function writerOf(
  format: ReviewOptions["format"],
  outside: Outside,
  baseline: Baseline | undefined,
): ReviewWriter {
  const reporting = outside.libraries.reporting();
  switch (format) {
    case "text": {
      const text = new reporting.TextReview(ruleTexts(), styleOf(lookFor(outside)), baseline);
      return { start: () => "", note: (one) => text.note(one), end: (all) => text.end(all) };
    }
    case "markdown": {
      return new reporting.MarkdownReview(ruleTexts(), baseline);
    }
    case "sarif":
      return {
        start: () => reporting.sarifHead(ruleTexts(), version),
        note: between(",\n", ({ checked, change }) => reporting.sarifResults(checked, change)),
        end: () => reporting.SARIF_TAIL,
      };
    case "junit":
      return {
        start: () => reporting.JUNIT_HEAD,
        note: ({ checked, change }) => reporting.junitSuite(checked, change),
        end: () => reporting.JUNIT_TAIL,
      };
    case "annotations":
      return {
        start: () => "",
        note: ({ checked, change }) => reporting.annotationLines(checked, change) ?? "",
        end: () => "",
      };
  }
}

/** Puts something between the pieces that are there. */
function between(mark: string, write: (review: NoteReview) => string | undefined): ReviewWriter["note"] {
  let first = true;
  return (review) => {
    const text = write(review);
    if (text === undefined) return "";
    const piece = first ? text : mark + text;
    first = false;
    return piece;
  };
}
