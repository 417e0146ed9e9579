import { resolve } from "node:path";
import { parseRecord } from "../../base/parse-record.ts";
import type { NoteRecord } from "../../base/record.ts";
import { findSimilar, type Similar } from "../../base/similar.ts";
import { WordIndex } from "../../base/word-index.ts";
import { harmless } from "../../report/display-width.ts";
import { wrap } from "../../report/source-line.ts";
import { shownPath } from "../note-reader.ts";
import { EXIT, type ExitStatus, lookFor, type Outside } from "../outside.ts";
import { csvRows } from "./csv.ts";
import { Indexer } from "./indexer.ts";
import { openBase } from "./open-base.ts";

export interface SimilarOptions {
  readonly format: "readable" | "json" | "csv";
  readonly most: number;
  readonly quiet: boolean;
}

/** `witness-mark similar FILE [paths…]`: earlier notes like this one, best first, and why each is like it. */
export async function similar(
  file: string,
  paths: readonly string[],
  options: SimilarOptions,
  outside: Outside,
): Promise<ExitStatus> {
  const path = resolve(outside.folder, file);
  const shown = shownPath(path, outside.folder);
  const { record, failure, unreadable } = new Indexer(outside.folder, outside.libraries).note(path);
  if (record === undefined) {
    const reason = failure ?? unreadable ?? "is no job note: its front matter has no `job:`";
    outside.err(`${harmless(shown)} ${reason}.\n`);
    return EXIT.failed;
  }
  const opened = await openBase(paths, options.quiet, outside);
  if (opened === undefined) return EXIT.failed;
  const { base, failed } = opened;
  const found = findSimilar(parseRecord(record, shown), base, new WordIndex(base.notes), options.most);
  const noteOf = ({ note }: Similar): NoteRecord | undefined => base.notes[note];
  outside.out(
    options.format === "readable"
      ? readable(found, noteOf, lookFor(outside).width)
      : options.format === "csv"
        ? csv(found, noteOf)
        : json(found, noteOf),
  );
  return failed ? EXIT.failed : EXIT.clear;
}

type NoteOf = (one: Similar) => NoteRecord | undefined;
const field = (note: NoteRecord | undefined, name: string): string =>
  [note?.fields[name] ?? ""].flat().join("; ");

function readable(found: readonly Similar[], noteOf: NoteOf, width: number): string {
  if (found.length === 0) return "No earlier note is like this one.\n";
  return found
    .map((one, place) => {
      const note = noteOf(one);
      const head = [note?.path ?? "", field(note, "job"), note?.day ?? ""].filter((part) => part !== "");
      const says = [
        `${place + 1}. ${head.join("  ")}`,
        ...paragraph("", field(note, "subject"), width),
        ...paragraph("Complaint: ", field(note, "complaint"), width),
        ...paragraph("Cause: ", field(note, "cause"), width),
        ...paragraph("Alike: ", one.because.join("; "), width),
      ];
      return `${says.join("\n")}\n`;
    })
    .join("\n");
}

function paragraph(label: string, text: string, width: number): string[] {
  return text === "" ? [] : wrap(harmless(label + text), width - 4).map((line) => `    ${line}`);
}

const csv = (found: readonly Similar[], noteOf: NoteOf): string =>
  csvRows([
    ["path", "job", "date", "likeness", "subject", "complaint", "cause", "because"],
    ...found.map((one) => {
      const note = noteOf(one);
      return [
        note?.path ?? "",
        field(note, "job"),
        note?.day ?? "",
        Number(one.likeness.toFixed(3)),
        ...["subject", "complaint", "cause"].map((name) => field(note, name)),
        one.because.join("; "),
      ];
    }),
  ]);

const json = (found: readonly Similar[], noteOf: NoteOf): string =>
  `${JSON.stringify({
    version: 1,
    notes: found.map((one) => {
      const note = noteOf(one);
      return {
        path: note?.path ?? null,
        job: note?.fields.job ?? null,
        date: note?.day ?? null,
        likeness: Number(one.likeness.toFixed(3)),
        subject: note?.fields.subject ?? null,
        complaint: note?.fields.complaint ?? null,
        cause: note?.fields.cause ?? null,
        because: one.because,
      };
    }),
  })}\n`;
