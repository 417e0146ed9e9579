import { readSeriesLine } from "../language/series-line.ts";
import { type OwnUnits, readUnit } from "../units/index.ts";

/** How a logger's file is laid out, as far as it shows. */
export interface Layout {
  readonly separator: "," | ";" | "\t";
  readonly decimal: "." | ",";
  /** Lines before the table. */
  readonly skip: number;
}

/** One column as the series will have it. */
export interface LoggedTableColumn {
  readonly name: string;
  readonly unit: string | undefined;
  /** Its place in the file, from 0. */
  readonly place: number;
  /** Its heading in the file, or undefined where there is none. */
  readonly heading: string | undefined;
  /** Times of day or dates, which become seconds since the first row. */
  readonly moments: boolean;
}

export interface LoggedTable {
  readonly columns: readonly LoggedTableColumn[];
  /** Rows of numbers as they will stand in the note; undefined for an empty cell. */
  readonly rows: readonly (readonly (string | undefined)[])[];
  /** What somebody should know about the result, as sentences. */
  readonly remarks: readonly string[];
}

const SEPARATORS = [";", "\t", ","] as const;
const MOST_HEAD_LINES = 200;

/** Guesses the layout from the first lines; what is given counts more than what is seen. */
export function layoutOf(head: string, given: Partial<Layout>): Layout {
  const lines = head.split(/\r\n|\n|\r/).slice(0, MOST_HEAD_LINES);
  const separator = given.separator ?? mostRegular(lines);
  const decimal =
    given.decimal ??
    (separator !== "," &&
    lines.some((line) => line.split(separator).some((cell) => /^\s*-?\d+,\d+\s*$/.test(cell)))
      ? ","
      : ".");
  const widths = lines.map((line) => line.split(separator).length);
  const width = Math.max(...widths.filter((count, i) => count > 1 && lines[i]?.trim() !== ""), 1);
  const first = widths.indexOf(width);
  return { separator, decimal, skip: given.skip ?? Math.max(0, first) };
}

/** The sign that divides the most lines into the same number of cells. */
function mostRegular(lines: readonly string[]): Layout["separator"] {
  let best: Layout["separator"] = ",";
  let most = 0;
  for (const separator of SEPARATORS) {
    const counts = new Map<number, number>();
    for (const line of lines) {
      const cells = line.split(separator).length;
      if (cells > 1) counts.set(cells, (counts.get(cells) ?? 0) + 1);
    }
    const regular = Math.max(0, ...counts.values());
    if (regular > most) {
      most = regular;
      best = separator;
    }
  }
  return best;
}

/** Turns the records of a file into a table. A sentence where there is no table in it. */
export function readLoggerTable(
  records: readonly (readonly string[])[],
  layout: Layout,
  own?: OwnUnits,
): LoggedTable | string {
  const headings = records[0] ?? [];
  const hasHead =
    headings.some((cell) => cell !== "") &&
    headings.every((cell) => numberIn(cell, layout) === undefined && momentIn(cell) === undefined);
  const second = records[1] ?? [];
  // Many loggers put the units into a line of their own below the headings.
  const unitLine =
    hasHead &&
    second.some((cell) => cell !== "") &&
    second.every((cell) => cell === "" || readUnit(bare(cell), own).ok) &&
    second.every((cell) => numberIn(cell, layout) === undefined);
  const body = records
    .slice(hasHead ? (unitLine ? 2 : 1) : 0)
    .filter((record) => record.some((cell) => cell !== ""));
  if (body.length === 0) return "There are no rows of numbers in it.";

  const remarks: string[] = [];
  const columns: LoggedTableColumn[] = [];
  const width = Math.max(...body.map((record) => record.length));
  const taken = new Set<string>();
  for (let place = 0; place < width; place++) {
    const cells = body.map((record) => record[place] ?? "").filter((cell) => cell !== "");
    const heading = hasHead ? headings[place] : undefined;
    const shown = heading ? `“${heading}”` : `number ${place + 1}`;
    const moments = cells.length > 0 && cells.every((cell) => momentIn(cell) !== undefined);
    if (cells.length === 0 || (!moments && !cells.some((cell) => numberIn(cell, layout) !== undefined))) {
      if (cells.length > 0 || heading) remarks.push(`The column ${shown} holds no numbers and is left out.`);
      continue;
    }
    const unitBelow = unitLine ? bare(second[place] ?? "") : "";
    const { name, unit } = headingParts(heading ?? "", unitBelow, own);
    const known = unit === "" || readUnit(unit, own).ok;
    if (!known && !moments) {
      remarks.push(`The unit \`${unit}\` of the column ${shown} is not known; give it one in the block.`);
    }
    const unique = uniqueName(validName(name, moments ? "time" : `column ${place + 1}`), taken);
    taken.add(unique);
    columns.push({
      name: unique,
      unit: moments ? "s" : known && unit !== "" ? unit : undefined,
      place,
      heading: heading === "" ? undefined : heading,
      moments,
    });
    if (moments)
      remarks.push(`The moments of the column ${shown} are written as seconds since the first row.`);
  }
  if (columns.length === 0) return "None of its columns holds numbers.";
  const start = columns.map(({ place, moments }) => (moments ? momentIn(body[0]?.[place] ?? "") : undefined));
  let left = 0;
  const rows = body.map((record) =>
    columns.map(({ place, moments }, i) => {
      const cell = record[place] ?? "";
      if (moments) {
        const at = momentIn(cell);
        return at === undefined ? undefined : seconds(at - (start[i] ?? 0));
      }
      const number = numberIn(cell, layout);
      if (number === undefined && cell !== "") left++;
      return number;
    }),
  );
  if (left > 0)
    remarks.push(
      `${left} ${left === 1 ? "cell holds" : "cells hold"} no number and ${left === 1 ? "is" : "are"} left empty.`,
    );
  return { columns, rows, remarks };
}

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;

/** The number as a note writes it: with a decimal point and without a plus. */
function numberIn(cell: string, { decimal }: Layout): string | undefined {
  const text = (decimal === "," ? cell.replace(",", ".") : cell).trim();
  return NUMBER.test(text)
    ? text
        .replace(/^\+/, "")
        .replace(/^(-?)\./, "$10.")
        .replace(/\.$/, "")
    : undefined;
}

/** A moment in seconds: ISO 8601, or a time of day. Other orders of day and month could mean either. */
function momentIn(cell: string): number | undefined {
  const text = cell.trim();
  const time = /^(\d{1,2}):(\d\d):(\d\d(?:\.\d+)?)$/.exec(text);
  if (time) return Number(time[1]) * 3600 + Number(time[2]) * 60 + Number(time[3]);
  if (!/^\d{4}-\d\d-\d\d[ T]\d\d:\d\d(?::\d\d(?:\.\d+)?)?(?:Z|[+-]\d\d:\d\d)?$/.test(text)) return undefined;
  const iso = text.replace(" ", "T");
  const at = Date.parse(/Z|[+-]\d\d:\d\d$/.test(iso) ? iso : `${iso}Z`);
  return Number.isNaN(at) ? undefined : at / 1000;
}

const seconds = (value: number): string => String(Number(value.toFixed(3)));

const bare = (unit: string): string =>
  unit
    .trim()
    .replace(/^[[(](.*)[\])]$/, "$1")
    .trim();

/** `Pressure [kPa]`, `Pressure (kPa)`, `Pressure, kPa`, `Pressure in kPa` as name and unit. */
function headingParts(heading: string, unitBelow: string, own?: OwnUnits): { name: string; unit: string } {
  if (unitBelow !== "") return { name: heading, unit: unitBelow };
  const bracket = /^(.*?)\s*[[(]([^\])]*)[\])]\s*$/.exec(heading);
  if (bracket) return { name: bracket[1] ?? "", unit: (bracket[2] ?? "").trim() };
  const behind = /^(.+?)(?:,|\/| in)\s*([^\s,]+)\s*$/.exec(heading);
  if (behind && readUnit(behind[2] ?? "", own).ok) return { name: behind[1] ?? "", unit: behind[2] ?? "" };
  return { name: heading, unit: "" };
}

/** The column of a series for a heading of a file, as in `pressure [kPa]`; undefined where no name can be made of it. */
export function columnFor(heading: string): string | undefined {
  const { name, unit } = headingParts(heading, "");
  const valid = validName(name, "");
  if (valid === "") return undefined;
  return unit !== "" && readUnit(unit).ok ? `${valid} [${unit}]` : valid;
}

/** A name that formulas can use, as near to the heading as can be. */
function validName(heading: string, instead: string): string {
  const name = heading
    .replace(/[^\p{L}\p{M}\p{N}'’-]+/gu, " ")
    .replace(/(^|\s)[^\p{L}\p{N}]+/gu, "$1")
    .replace(/[-'’]+(?=\s|$)/gu, "")
    .replace(/^[\d\s]+/, "")
    .trim();
  const header = name === "" ? undefined : readSeriesLine(name, undefined);
  const fits =
    header?.kind === "header" && header.problems.length === 0 && header.columns[0]?.name.text === name;
  return fits ? name : instead;
}

function uniqueName(name: string, taken: ReadonlySet<string>): string {
  // In a series case tells names apart, as time `t` and temperature `T` do.
  if (!taken.has(name)) return name;
  for (let i = 2; ; i++) {
    if (!taken.has(`${name} ${i}`)) return `${name} ${i}`;
  }
}
