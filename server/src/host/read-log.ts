import { readFileSync, statSync } from "node:fs";
import { CsvError, parse } from "csv-parse/sync";
import type { LoggedColumn, LogProblem, LogReading, LogRequest } from "../note/series-log.ts";
import { findLog, refuse } from "./log-path.ts";
import { reasonOf } from "./read-text.ts";

/** A log may hold this many bytes: a million rows with a dozen columns, read within a few hundred megabytes. */
export const MAX_LOG_BYTES = 120 * 1024 * 1024;

/** Resolution is taken from the first rows; every one of a million would say the same. */
const ROWS_FOR_STEP = 1000;

/** Gives the bytes of a file that is not taken from the disk; undefined where there is none. */
export type TakeBytes = (path: string) => Buffer | undefined;

/**
 * Reads a log beside a note. Only files inside the notes' root are read, wherever a path or a link leads.
 *
 * @param folder of the note
 * @param root of the notes: the shop file's folder, else the note's own
 * @param take hands over files that are not read from the disk, such as those of an earlier revision
 */
export function readLog(request: LogRequest, folder: string, root: string, take?: TakeBytes): LogReading {
  const found = findLog(request.path, folder, root, take === undefined);
  if (!found.ok) return found;
  if (take !== undefined) {
    const taken = take(found.path);
    if (taken !== undefined) return readBytes(taken, request);
    const gone = refuse(`The log \`${request.path}\` is not there.`, "Correct the path, or add the log.");
    return { ...gone, missing: true };
  }
  let bytes: Buffer;
  try {
    const { size } = statSync(found.path);
    if (size > MAX_LOG_BYTES) {
      return refuse(
        `The log \`${request.path}\` holds more than ${MAX_LOG_BYTES / 1024 / 1024} MB.`,
        "Cut it down to the time of the test, or log less often.",
      );
    }
    bytes = readFileSync(found.path);
  } catch (fault) {
    return refuse(`The log \`${request.path}\` ${reasonOf(fault)}.`, "Put it right, then look again.");
  }
  return readBytes(bytes, request);
}

function readBytes(bytes: Buffer, request: LogRequest): LogReading {
  if (
    (bytes[0] === 0xff && bytes[1] === 0xfe) ||
    (bytes[0] === 0xfe && bytes[1] === 0xff) ||
    bytes.includes(0)
  ) {
    return refuse(
      `The log \`${request.path}\` is no plain text in UTF-8.`,
      "Export it as CSV with the coding UTF-8.",
    );
  }
  return readTable(bytes, request);
}

/** A column that grows, in half the memory of a list of numbers that may be anything. */
class Growing {
  values = new Float64Array(1024);
  step = Number.POSITIVE_INFINITY;

  set(row: number, value: number): void {
    if (row === this.values.length) {
      const wider = new Float64Array(row * 2);
      wider.set(this.values);
      this.values = wider;
    }
    this.values[row] = value;
  }

  done(rows: number): LoggedColumn {
    return { values: this.values.slice(0, rows), step: Number.isFinite(this.step) ? this.step : 0 };
  }
}

const NUMBER = /^[+-]?(?:\d+(?:\.(\d*))?|\.(\d+))(?:[eE]([+-]?\d+))?$/;

function readTable(bytes: Buffer, request: LogRequest): LogReading {
  const columns = Array.from({ length: request.count }, () => new Growing());
  const numbers = new Array<number>(request.count);
  const faults = new Faults(request);
  let places: readonly number[] | undefined;
  let rows = 0;
  let mismatch: LogReading | undefined;

  /** Puts one record into the columns; whole or not at all, so that they stay in step. */
  const take = (record: readonly string[], line: number): void => {
    if (mismatch) return;
    if (!places) {
      const found = placesOf(record, request);
      if (!Array.isArray(found)) {
        mismatch = found;
        return;
      }
      places = found;
      // A first line without a single number in the columns asked for is the file's own heading.
      if (places.every((place) => numberIn(record[place] ?? "", request.decimal) === undefined)) return;
    }
    let empty = false;
    for (let i = 0; i < places.length; i++) {
      const place = places[i] ?? 0;
      const cell = record[place];
      if (cell === undefined) {
        faults.short(line, record.length, place + 1);
        return;
      }
      if (cell === "") {
        empty = true;
        continue;
      }
      const number = numberIn(cell, request.decimal);
      if (number === undefined) {
        faults.noNumber(line, place + 1, cell);
        return;
      }
      numbers[i] = number;
    }
    if (empty) return;
    for (const [i, column] of columns.entries()) {
      column.set(rows, numbers[i] ?? Number.NaN);
      // Exports drop closing zeros, so the finest number tells the resolution.
      if (rows < ROWS_FOR_STEP)
        column.step = Math.min(column.step, stepOf(record[places[i] ?? 0] ?? "", request.decimal));
    }
    rows++;
  };

  try {
    parse(bytes, {
      delimiter: request.separator,
      bom: true,
      from_line: request.skip + 1,
      trim: request.separator !== "\t",
      skip_empty_lines: true,
      relax_column_count: true,
      relax_quotes: true,
      on_record: (record: string[], { lines }) => {
        take(record, lines);
        // Nothing is handed back, so that the records are not kept.
        return null;
      },
    });
  } catch (fault) {
    if (!(fault instanceof CsvError)) throw fault;
    const line = typeof fault.lines === "number" ? ` near row ${fault.lines}` : "";
    return refuse(
      `The log \`${request.path}\` cannot be read${line}: a quote is opened and not closed.`,
      "Export it again, or open it in a text editor and look at that row.",
    );
  }
  if (mismatch) return mismatch;
  if (rows === 0 && faults.count === 0) {
    return refuse(
      `The log \`${request.path}\` holds no rows.`,
      request.skip > 0 ? "Skip fewer lines, or export it again." : "Export it again.",
    );
  }
  return { ok: true, columns: columns.map((column) => column.done(rows)), rows, problems: faults.problems() };
}

/** Where the block's columns stand in the file; decided from its first line. */
function placesOf(first: readonly string[], request: LogRequest): number[] | LogReading {
  const { columns, count, separator } = request;
  const other = separator === "," ? ";" : ",";
  if (first.length < count && first.length === 1) {
    const alone = first[0] ?? "";
    const mark = alone.includes("\t") ? "\t" : alone.includes(other) ? other : undefined;
    if (mark) {
      const word = { "\t": "tab", ";": "semicolon", ",": "comma" }[mark];
      return refuse(
        `The columns of \`${request.path}\` are not kept apart by the separator that is set.`,
        `Add the line \`separator: ${word}\` to the series.`,
      );
    }
  }
  const places: number[] = [];
  for (let i = 0; i < count; i++) {
    const name = columns[i];
    const place = name === undefined ? i : placeOf(name, first);
    if (place < 0) {
      const heads = first.filter((head) => head !== "").slice(0, 12);
      return refuse(
        `\`${request.path}\` has no column \`${name}\`.`,
        `Its first line reads: ${heads.map((head) => `\`${head}\``).join(", ")}.${request.skip === 0 ? " If lines stand before the table, say how many with `skip:`." : ""}`,
      );
    }
    places.push(place);
  }
  return places;
}

function placeOf(name: string, first: readonly string[]): number {
  const wanted = name.toLowerCase();
  const byName = first.findIndex((head) => head.toLowerCase() === wanted);
  return byName >= 0 || !/^[1-9]\d{0,3}$/.test(name) ? byName : Number(name) - 1;
}

function numberIn(cell: string, decimal: LogRequest["decimal"]): number | undefined {
  let text = cell;
  if (decimal === ",") {
    if (text.includes(".")) return undefined;
    text = text.replace(",", ".");
  }
  return NUMBER.test(text) ? Number(text) : undefined;
}

function stepOf(cell: string, decimal: LogRequest["decimal"]): number {
  const match = NUMBER.exec(decimal === "," ? cell.replace(",", ".") : cell);
  if (!match) return Number.POSITIVE_INFINITY;
  const decimals = (match[1] ?? match[2] ?? "").length;
  return 10 ** (Number(match[3] ?? 0) - decimals);
}

/** What is wrong with rows: the first is told in full, the others are counted. */
class Faults {
  count = 0;
  #first: LogProblem | undefined;
  readonly #request: LogRequest;

  constructor(request: LogRequest) {
    this.#request = request;
  }

  noNumber(line: number, column: number, cell: string): void {
    const { path, decimal } = this.#request;
    const shown = cell.length > 30 ? `${cell.slice(0, 30)}…` : cell;
    const comma = decimal === "." && /^[+-]?\d+,\d+$/.test(cell);
    this.#add({
      message: `Row ${line} of \`${path}\`: \`${shown}\` in column ${column} is not a number.`,
      advice: comma
        ? "The logger writes decimal commas: add the line `decimal: comma` to the series."
        : "Rows that cannot be read are left out. Correct the log's copy, or pick other columns with `columns:`.",
    });
  }

  short(line: number, cells: number, column: number): void {
    this.#add({
      message: `Row ${line} of \`${this.#request.path}\` has ${cells} ${cells === 1 ? "cell" : "cells"}, and column ${column} is asked for.`,
      advice: "Rows that cannot be read are left out. Lines before the table are passed over with `skip:`.",
    });
  }

  #add(problem: LogProblem): void {
    this.count++;
    this.#first ??= problem;
  }

  problems(): readonly LogProblem[] {
    if (!this.#first) return [];
    const others = this.count - 1;
    if (others === 0) return [this.#first];
    const message = `${this.#first.message} So ${others === 1 ? "is one more row" : `are ${others} more rows`}.`;
    return [{ ...this.#first, message }];
  }
}
