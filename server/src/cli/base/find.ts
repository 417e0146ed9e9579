import { existsSync } from "node:fs";
import { resolve } from "node:path";
import type { Base } from "../../base/base.ts";
import { type Asked, readCondition } from "../../base/condition.ts";
import { namedValues, valueInWords } from "../../base/named-values.ts";
import type { NoteRecord } from "../../base/record.ts";
import { WordIndex } from "../../base/word-index.ts";
import { harmless } from "../../report/display-width.ts";
import { EXIT, type ExitStatus, type Outside } from "../outside.ts";
import { csvRows } from "./csv.ts";
import { openBase } from "./open-base.ts";
import { sayMisread } from "./say-misread.ts";
import { textTable } from "./text-table.ts";

export interface FindOptions {
  readonly words?: string;
  readonly format: "readable" | "json" | "csv";
  readonly quiet: boolean;
}

/** One note that was found: under which label, and for words how well. */
interface Found {
  readonly note: NoteRecord;
  readonly label: string;
  readonly score?: number;
}

/** `witness-mark find CONDITION [paths…]`: the notes that meet a condition, or hold words, or both. */
export async function find(
  given: readonly string[],
  options: FindOptions,
  outside: Outside,
): Promise<ExitStatus> {
  const { text, paths } = split(given, options, outside.folder);
  if (text === undefined && options.words === undefined) {
    outside.err("Nothing says what to find. witness-mark find --help shows how to ask.\n");
    return EXIT.failed;
  }
  const opened = await openBase(paths, options.quiet, outside);
  if (opened === undefined) return EXIT.failed;
  const { base, failed } = opened;
  let condition: Asked | undefined;
  if (text !== undefined && base.notes.length > 0) {
    const reading = readCondition(text, base);
    if (!reading.ok) {
      outside.err(sayMisread(text, reading));
      return EXIT.failed;
    }
    condition = reading.condition;
  }
  const found = findIn(base, condition, options.words);
  outside.out(WRITERS[options.format](found, condition?.names ?? [], base.notes.length));
  for (const [says, times] of condition?.kept ?? []) {
    outside.err(`Left out ${times} ${times === 1 ? "time" : "times"}, as ${harmless(says)}.\n`);
  }
  return failed ? EXIT.failed : EXIT.clear;
}

/** With `--words` a condition may be left out; then the first argument is a path where it is one. */
function split(
  [first, ...rest]: readonly string[],
  { words }: FindOptions,
  folder: string,
): { text: string | undefined; paths: readonly string[] } {
  if (first === undefined) return { text: undefined, paths: [] };
  if (words !== undefined && existsSync(resolve(folder, first)))
    return { text: undefined, paths: [first, ...rest] };
  return { text: first, paths: rest };
}

/** By path for a condition alone, best first for words. */
function findIn(base: Base, condition: Asked | undefined, words: string | undefined): Found[] {
  const found: Found[] = [];
  const take = (index: number, score?: number): void => {
    const note = base.notes[index];
    const label = condition === undefined ? "" : condition.meets(index);
    if (note !== undefined && label !== undefined)
      found.push({ note, label, ...(score === undefined ? {} : { score }) });
  };
  if (words === undefined)
    base.notes.forEach((_, index) => {
      take(index);
    });
  else for (const hit of new WordIndex(base.notes).search(words, { all: true })) take(hit.note, hit.score);
  return found;
}

const text = (value: string | readonly string[] | undefined): string =>
  value === undefined ? "" : typeof value === "string" ? value : value.join("; ");

type Write = (found: readonly Found[], names: readonly string[], among: number) => string;

const readable: Write = (found, names, among) => {
  const sum = `${found.length} of ${among} job notes.\n`;
  if (found.length === 0) return sum;
  const rows = found.map((one) => [
    one.note.path,
    text(one.note.fields.job),
    one.note.day ?? "",
    ...namedValues(one.note, one.label, names).map(valueInWords),
    text(one.note.fields.complaint ?? one.note.fields.subject),
  ]);
  return `${textTable(["note", "job", "date", ...names, "complaint"], rows)}\n${sum}`;
};

const csv: Write = (found, names) =>
  csvRows([
    ["path", "job", "date", "status", "procedure", "subject", "complaint", ...names.flatMap(columnsOf)],
    ...found.map((one) => [
      one.note.path,
      ...["job", "date", "status", "procedure", "subject", "complaint"].map((field) =>
        field === "date" ? (one.note.day ?? "") : text(one.note.fields[field]),
      ),
      ...namedValues(one.note, one.label, names).flatMap((value) => [
        typeof value?.value === "number" ? value.value : valueInWords(value),
        value?.unit ?? "",
        value?.uncertainty ?? "",
      ]),
    ]),
  ]);

const columnsOf = (name: string): string[] => [name, `${name} unit`, `${name} uncertainty`];

const json: Write = (found, names, among) =>
  `${JSON.stringify({
    version: 1,
    notes: found.map((one) => ({
      path: one.note.path,
      job: one.note.fields.job ?? null,
      date: one.note.day ?? null,
      status: one.note.fields.status ?? null,
      procedure: one.note.fields.procedure ?? null,
      subject: one.note.fields.subject ?? null,
      complaint: one.note.fields.complaint ?? null,
      label: one.label === "" ? null : one.label,
      ...(one.score === undefined ? {} : { score: Number(one.score.toPrecision(6)) }),
      values: namedValues(one.note, one.label, names).flatMap((value) =>
        value === undefined
          ? []
          : [
              {
                name: value.label === undefined ? value.name : `${value.label} ${value.name}`,
                value: value.value ?? null,
                unit: value.unit ?? null,
                uncertainty: value.uncertainty ?? null,
                line: value.line,
              },
            ],
      ),
    })),
    totals: { found: found.length, notes: among },
  })}\n`;

const WRITERS: Readonly<Record<FindOptions["format"], Write>> = { readable, csv, json };
