import { readFileSync, statSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { parse } from "csv-parse/sync";
import { type Layout, type LoggedTable, layoutOf, readLoggerTable } from "../../base/logger-table.ts";
import { readShop } from "../../check/read-shop.ts";
import { ShopFinder } from "../../host/nearest-shop.ts";
import { MAX_LOG_BYTES } from "../../host/read-log.ts";
import { readText, reasonOf } from "../../host/read-text.ts";
import { harmless } from "../../report/display-width.ts";
import type { OwnUnits } from "../../units/index.ts";
import { EXIT, type ExitStatus, type Outside } from "../outside.ts";
import { writeWhole } from "./write-whole.ts";

export interface ImportOptions {
  readonly name: string;
  readonly into?: string;
  readonly every: number;
  /** Write the rows into the note however many they are, instead of a line that points to the file. */
  readonly rows: boolean;
  readonly separator?: "comma" | "semicolon" | "tab";
  readonly decimal?: "point" | "comma";
  readonly skip?: number;
}

/** Above so many rows a note points to the file instead. */
const MOST_ROWS = 200;
const HEAD = 64 * 1024;
const SEPARATORS = { comma: ",", semicolon: ";", tab: "\t" } as const;
const WORDS = { ",": "comma", ";": "semicolon", "\t": "tab" } as const;

/** `witness-mark import LOG.csv`: a logger's file as a series block, printed or put at the end of a note. */
export function importLog(file: string, options: ImportOptions, outside: Outside): ExitStatus {
  const fail = (says: string): ExitStatus => {
    outside.err(`${says}\n`);
    return EXIT.failed;
  };
  if (!/^\p{L}[\p{L}\p{M}\p{N} '’-]*$/u.test(options.name))
    return fail(
      `A series cannot be called \`${harmless(options.name)}\`. Start with a letter, as in --name decay.`,
    );
  const path = resolve(outside.folder, file);
  let bytes: Buffer;
  try {
    if (statSync(path).size > MAX_LOG_BYTES)
      return fail(
        `${harmless(file)} holds more than ${MAX_LOG_BYTES / 1024 / 1024} MB. Cut it down to the time of the test.`,
      );
    bytes = readFileSync(path);
  } catch (fault) {
    return fail(`${harmless(file)} ${reasonOf(fault)}.`);
  }
  if (bytes.includes(0))
    return fail(`${harmless(file)} is no plain text in UTF-8. Export it as CSV with the coding UTF-8.`);
  const layout = layoutOf(bytes.toString("utf8", 0, HEAD), {
    ...(options.separator === undefined ? {} : { separator: SEPARATORS[options.separator] }),
    ...(options.decimal === undefined ? {} : { decimal: options.decimal === "comma" ? "," : "." }),
    ...(options.skip === undefined ? {} : { skip: options.skip }),
  } satisfies Partial<Layout>);
  const records = recordsOf(bytes, layout);
  if (records === undefined)
    return fail(`${harmless(file)} cannot be read as CSV: a quote is opened and not closed.`);
  const beside = options.into === undefined ? outside.folder : dirname(resolve(outside.folder, options.into));
  const table = readLoggerTable(records, layout, unitsFor(beside, outside));
  if (typeof table === "string") return fail(`${harmless(file)} gives no series. ${table}`);
  for (const remark of table.remarks) outside.err(`${harmless(remark)}\n`);

  const moments = table.columns.some((column) => column.moments);
  const inline = options.rows || moments || options.every > 1 || table.rows.length <= MOST_ROWS;
  const lines = inline
    ? rowLines(table, options.every)
    : pointerLines(table, layout, relative(beside, path).split(sep).join("/"));
  const block = [`\`\`\`series ${options.name}`, ...lines, "```"].join("\n");
  if (options.into === undefined) {
    outside.out(`${block}\n`);
    return EXIT.clear;
  }
  const reading = readText(resolve(outside.folder, options.into));
  if (!reading.ok) return fail(`${harmless(options.into)} ${reading.reason}.`);
  const ending = reading.text.includes("\r\n") ? "\r\n" : "\n";
  const text = `${reading.text.trimEnd()}\n\n${block}\n`.replace(/\r?\n/g, ending);
  const fault = writeWhole(resolve(outside.folder, options.into), text);
  if (fault !== undefined) return fail(`${harmless(options.into)} ${fault}.`);
  outside.err(`The series ${harmless(options.name)} is at the end of ${harmless(options.into)}.\n`);
  return EXIT.clear;
}

/** Units of the shop whose notes lie in a folder. What is wrong with its file is told by a check. */
function unitsFor(folder: string, { libraries }: Outside): OwnUnits | undefined {
  const path = new ShopFinder().find(folder);
  const reading = path === undefined ? undefined : readText(path);
  return reading?.ok ? readShop(reading.text, libraries.yaml, libraries.procedures()).units : undefined;
}

function recordsOf(bytes: Buffer, { separator, skip }: Layout): string[][] | undefined {
  try {
    return parse(bytes, {
      delimiter: separator,
      bom: true,
      from_line: skip + 1,
      trim: separator !== "\t",
      skip_empty_lines: true,
      relax_column_count: true,
      relax_quotes: true,
    });
  } catch {
    return undefined;
  }
}

const headerOf = ({ columns }: LoggedTable): string =>
  columns.map(({ name, unit }) => (unit === undefined ? name : `${name} [${unit}]`)).join(", ");

function rowLines(table: LoggedTable, every: number): string[] {
  const rows = table.rows.filter((_, i) => i % every === 0);
  return [headerOf(table), ...rows.map((row) => row.map((cell) => cell ?? "").join(", "))];
}

/** `from:` and what the checker has to know to read the file itself. */
function pointerLines(table: LoggedTable, layout: Layout, path: string): string[] {
  const inOrder = table.columns.every(({ place }, i) => place === i);
  return [
    `from: ${path}`,
    ...(layout.skip > 0 ? [`skip: ${layout.skip}`] : []),
    ...(layout.separator === "," ? [] : [`separator: ${WORDS[layout.separator]}`]),
    ...(layout.decimal === "." ? [] : ["decimal: comma"]),
    ...(inOrder ? [] : [`columns: ${table.columns.map(({ place }) => place + 1).join(", ")}`]),
    headerOf(table),
  ];
}
