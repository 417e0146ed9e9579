import {
  appendFileSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join, resolve } from "node:path";
import { parquetWriteBuffer } from "hyparquet-writer";
import type { Base } from "../../base/base.ts";
import { exportNote } from "../../base/export-note.ts";
import { type Cell, type ColumnKind, type ExportTable, exportTables } from "../../base/export-tables.ts";
import type { NoteRecord } from "../../base/record.ts";
import { reasonOf } from "../../host/read-text.ts";
import { harmless } from "../../report/display-width.ts";
import { Interruption } from "../interruption.ts";
import { EXIT, type ExitStatus, type Outside } from "../outside.ts";
import { csvRows } from "./csv.ts";
import { openBase } from "./open-base.ts";
import { Progress } from "./progress.ts";
import { besideName } from "./write-whole.ts";

export interface ExportOptions {
  readonly format: "csv" | "ndjson" | "parquet";
  readonly personal: boolean;
  readonly quiet: boolean;
}

/** A file of the export: under which name it ends up, and how its pieces are written. */
interface Target {
  readonly path: string;
  readonly beside: string;
}

/** So many notes are written in one go, before what waits, such as Ctrl-C, is let in. */
const SLICE = 500;

/**
 * `witness-mark export --format F OUT [paths…]`: notes for other programs. CSV and Parquet are five tables in
 * a folder, NDJSON is one file. Everything is written under other names first and moved into place at the
 * end, all together.
 */
export async function exportNotes(
  out: string,
  paths: readonly string[],
  options: ExportOptions,
  outside: Outside,
): Promise<ExitStatus> {
  const opened = await openBase(paths, options.quiet, outside);
  if (opened === undefined) return EXIT.failed;
  const { base, failed } = opened;
  const path = resolve(outside.folder, out);
  const tables = exportTables(options.personal);
  const targets: Target[] = [];
  const target = (name: string): Target => {
    const made = { path: name, beside: besideName(name) };
    targets.push(made);
    return made;
  };
  let madeFolder = false;
  const discard = (): void => {
    for (const { beside } of targets) rmSync(beside, { force: true });
    // Somebody else may have put something there since.
    if (madeFolder && readdirSync(path).length === 0) rmdirSync(path);
  };
  const stop = new Interruption();
  const progress = new Progress(
    "Writing notes",
    base.notes.length,
    options.quiet ? undefined : outside.progress,
  );
  try {
    if (options.format === "ndjson")
      await writeLines(base, options.personal, target(path), { progress, stop });
    else {
      madeFolder = mkdirSync(path, { recursive: true }) !== undefined;
      for (const table of tables) {
        const file = target(join(path, `${table.name}.${options.format}`));
        if (options.format === "csv") await writeCsv(base, table, file, { progress, stop });
        else writeParquet(base, table, file);
        if (!(await stop.goesOn())) break;
      }
    }
    if (stop.wanted) {
      discard();
      outside.err("Stopped before all notes were written.\n");
      return EXIT.failed;
    }
    for (const { path: whole, beside } of targets) renameSync(beside, whole);
  } catch (fault) {
    discard();
    outside.err(`${harmless(out)} ${reasonOf(fault)}.\n`);
    return EXIT.failed;
  } finally {
    progress.done();
    stop.end();
  }
  if (!options.quiet) {
    const bytes = targets.reduce((sum, { path: whole }) => sum + statSync(whole).size, 0);
    outside.err(
      `${base.notes.length} job notes are in ${harmless(out)} (${(bytes / 1024 / 1024).toFixed(1)} MB).\n`,
    );
  }
  return failed ? EXIT.failed : EXIT.clear;
}

interface Running {
  readonly progress: Progress;
  readonly stop: Interruption;
}

/** Hands on the notes in slices and draws the progress between them, until it is stopped. */
async function slices(
  base: Base,
  { progress, stop }: Running,
  each: (notes: readonly NoteRecord[]) => void,
): Promise<void> {
  for (let from = 0; from < base.notes.length; from += SLICE) {
    const notes = base.notes.slice(from, from + SLICE);
    each(notes);
    for (const _ of notes) progress.step();
    if (progress.due) progress.draw();
    if (!(await stop.goesOn())) return;
  }
}

async function writeLines(
  base: Base,
  personal: boolean,
  { beside }: Target,
  running: Running,
): Promise<void> {
  writeFileSync(beside, "", { flag: "wx" });
  await slices(base, running, (notes) => {
    appendFileSync(beside, notes.map((note) => `${JSON.stringify(exportNote(note, personal))}\n`).join(""));
  });
}

async function writeCsv(base: Base, table: ExportTable, { beside }: Target, running: Running): Promise<void> {
  writeFileSync(beside, csvRows([table.columns.map(([name]) => name)]), { flag: "wx" });
  await slices(base, running, (notes) => {
    const rows = notes.flatMap((note) => table.rows(note).map((row) => row.map(plain)));
    if (rows.length > 0) appendFileSync(beside, csvRows(rows));
  });
}

const plain = (cell: Cell): string | number | undefined => (typeof cell === "boolean" ? String(cell) : cell);

/** Types after the Parquet format's own: texts as UTF-8, days as DATE. */
const PARQUET: Readonly<Record<ColumnKind, object>> = {
  text: { type: "BYTE_ARRAY", converted_type: "UTF8" },
  number: { type: "DOUBLE" },
  whole: { type: "INT32" },
  truth: { type: "BOOLEAN" },
  day: { type: "INT32", converted_type: "DATE" },
};

function writeParquet(base: Base, table: ExportTable, { beside }: Target): void {
  const columns: (Cell | Date | null)[][] = table.columns.map(() => []);
  for (const note of base.notes) {
    for (const row of table.rows(note)) {
      columns.forEach((column, i) => {
        const cell = row[i];
        const day = table.columns[i]?.[1] === "day" && typeof cell === "string";
        column.push(cell === undefined ? null : day ? new Date(`${cell}T00:00:00Z`) : cell);
      });
    }
  }
  const buffer = parquetWriteBuffer({
    columnData: table.columns.map(([name], i) => ({ name, data: columns[i] ?? [] })),
    schema: [
      { name: "root", num_children: table.columns.length },
      ...table.columns.map(([name, kind]) => ({
        name,
        repetition_type: "OPTIONAL" as const,
        ...PARQUET[kind],
      })),
    ],
    createdBy: "witness-mark",
  });
  writeFileSync(beside, new Uint8Array(buffer), { flag: "wx" });
}
