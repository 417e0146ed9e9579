import type { SeriesLine, SeriesOption } from "../language/syntax.ts";
import { nearest } from "../text/nearest.ts";
import type { Placed, Range, SeriesBlock } from "./note.ts";

/**
 * A series whose rows stand in a file beside the note: `from: logs/decay.csv` and how to read it. The
 * columns are named and given units by the block's header line, as in any series.
 */
export interface LogRequest {
  /** The same for the same file read in the same way. */
  readonly key: string;
  /** As written. */
  readonly path: string;
  readonly pathRange: Range;
  readonly separator: "," | ";" | "\t";
  readonly decimal: "." | ",";
  /** Lines before the table: what the logger writes about itself. */
  readonly skip: number;
  /** Which columns of the file, by heading or by number from 1; empty: in the file's order. */
  readonly columns: readonly string[];
  /** How many columns the block's header names. */
  readonly count: number;
}

/** What came of reading a log. */
export type LogReading =
  | {
      readonly ok: true;
      /** One per column of the block's header, rows in step with each other. */
      readonly columns: readonly LoggedColumn[];
      readonly rows: number;
      readonly problems: readonly LogProblem[];
    }
  /** Why there is nothing to read; `missing` when the file is not there, which another rule reports. */
  | { readonly ok: false; readonly missing: boolean; readonly message: string; readonly advice: string };

export interface LoggedColumn {
  /** The numbers as logged, not yet in any unit. */
  readonly values: Float64Array;
  /** One step of the last digit shown. */
  readonly step: number;
}

export interface LogProblem {
  readonly message: string;
  readonly advice: string;
}

/** A line of the block that does not say what it should about the file. */
export interface LogOptionProblem extends LogProblem {
  readonly range: Range;
}

export interface LogOptions {
  /** Undefined for a series with its rows in the note, and where the options cannot be read. */
  readonly request: LogRequest | undefined;
  readonly problems: readonly LogOptionProblem[];
}

export const SEPARATORS: Readonly<Record<string, LogRequest["separator"]>> = {
  comma: ",",
  ",": ",",
  semicolon: ";",
  ";": ";",
  tab: "\t",
};
const DECIMALS: Readonly<Record<string, LogRequest["decimal"]>> = {
  point: ".",
  ".": ".",
  comma: ",",
  ",": ",",
};
/** No logger writes more about itself before its table. */
const MOST_SKIPPED = 1000;

const NONE: LogOptions = { request: undefined, problems: [] };
const read = new WeakMap<SeriesBlock, LogOptions>();

/** How a series wants its log read. */
export function logOptions(block: SeriesBlock): LogOptions {
  const known = read.get(block);
  if (known) return known;
  const made = readOptions(block);
  read.set(block, made);
  return made;
}

/** What came of reading the log of a series; undefined where it has none, or nobody could read files. */
export function logOf(block: SeriesBlock, logs: ReadonlyMap<string, LogReading>): LogReading | undefined {
  if (logs.size === 0) return undefined;
  const { request } = logOptions(block);
  return request && logs.get(request.key);
}

const hasOptions = (trees: readonly SeriesLine[]): boolean => trees.some(({ kind }) => kind === "option");

function readOptions(block: SeriesBlock): LogOptions {
  if (!block.content.once(hasOptions)) return NONE;
  const options = new Map<string, Placed<SeriesOption>>();
  let count = 0;
  let firstRow: Placed<unknown> | undefined;
  for (const placed of block.lines) {
    const { syntax } = placed;
    if (syntax.kind === "option") options.set(syntax.key.key, { ...placed, syntax });
    else if (syntax.kind === "header") count = syntax.columns.length;
    else if (syntax.kind === "row") firstRow ??= placed;
  }
  const problems: LogOptionProblem[] = [];
  const at = (placed: Placed<SeriesOption>): Range => ({
    from: placed.offset + placed.syntax.value.span.from,
    to: placed.offset + placed.syntax.value.span.to,
  });
  const problem = (range: Range, message: string, advice: string): undefined => {
    problems.push({ range, message, advice });
    return undefined;
  };
  const word = <T>(key: string, words: Readonly<Record<string, T>>, usual: T): T | undefined => {
    const placed = options.get(key);
    if (!placed) return usual;
    const text = placed.syntax.value.text.toLowerCase();
    if (Object.hasOwn(words, text)) return words[text];
    const known = Object.keys(words).filter((name) => /[a-z]/.test(name));
    const [near] = nearest(text, known, 1);
    const advice = near ? `Did you mean \`${near}\`?` : `Write ${known.join(" or ")}.`;
    return problem(at(placed), `\`${key}\` cannot be \`${placed.syntax.value.text}\`.`, advice);
  };

  const from = options.get("from");
  if (!from || from.syntax.value.text === "") {
    const first = [...options.values()][0];
    if (first) {
      const advice = "Add `from:` with the path of the log, or remove this line.";
      problem(at(first), "Nothing says which file this is about.", advice);
    }
    return { request: undefined, problems };
  }
  if (firstRow) {
    problem(
      { from: firstRow.offset, to: firstRow.offset + firstRow.length },
      "This series takes its rows from a file, so rows in the note are not read.",
      "Remove the rows here, or put them into a series of their own.",
    );
  }
  const separator = word("separator", SEPARATORS, ",");
  const decimal = word("decimal", DECIMALS, ".");
  const skip = readSkip(options.get("skip"), at, problem);
  const columns = (options.get("columns")?.syntax.value.text ?? "")
    .split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/)
    .map((name) => name.trim().replace(/^"(.*)"$/, "$1"))
    .filter((name) => name !== "");
  const columnsAt = options.get("columns");
  if (columnsAt && columns.length !== count) {
    problem(
      at(columnsAt),
      `This names ${columns.length} columns of the file, and the header of the series has ${count}.`,
      "Name one column of the file for each column of the series, in the same order.",
    );
    return { request: undefined, problems };
  }
  if (!separator || !decimal || skip === undefined || count === 0) return { request: undefined, problems };
  const path = from.syntax.value.text;
  const key = JSON.stringify([path, separator, decimal, skip, columns, count]);
  return {
    request: { key, path, pathRange: at(from), separator, decimal, skip, columns, count },
    problems,
  };
}

function readSkip(
  placed: Placed<SeriesOption> | undefined,
  at: (placed: Placed<SeriesOption>) => Range,
  problem: (range: Range, message: string, advice: string) => undefined,
): number | undefined {
  if (!placed) return 0;
  const { text } = placed.syntax.value;
  const match = /^(\d{1,4})(?:\s*lines?)?$/.exec(text);
  if (match && Number(match[1]) <= MOST_SKIPPED) return Number(match[1]);
  return problem(
    at(placed),
    `\`skip\` cannot be \`${text}\`.`,
    `Write how many lines stand before the table, a whole number up to ${MOST_SKIPPED}.`,
  );
}
