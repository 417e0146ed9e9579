import { existsSync } from "node:fs";
import { resolve } from "node:path";
import { inWords } from "../../analysis/showing.ts";
import type { Base } from "../../base/base.ts";
import { type Column, GROUPINGS, groupOf, type Point, pointsOf, readColumn } from "../../base/columns.ts";
import { type Asked, readCondition } from "../../base/condition.ts";
import { isField } from "../../base/fields.ts";
import { type Statistics, statisticsOf } from "../../base/statistics.ts";
import { harmless } from "../../report/display-width.ts";
import { EXIT, type ExitStatus, type Outside } from "../outside.ts";
import { comparisonOf, writeComparison } from "./compare.ts";
import { csvRows } from "./csv.ts";
import { openBase } from "./open-base.ts";
import { plotTable } from "./plot-table.ts";
import { sayMisread } from "./say-misread.ts";
import { textTable } from "./text-table.ts";
import { writeWhole } from "./write-whole.ts";

export interface TableOptions {
  readonly by?: string;
  readonly where?: string;
  readonly in?: readonly string[];
  readonly against?: string;
  readonly plot?: string;
  readonly compare?: string;
  readonly format: "readable" | "json" | "csv";
  readonly quiet: boolean;
}

/** A column's values in one group of notes. */
export interface Group {
  readonly column: Column;
  /** Empty where nothing is grouped. */
  readonly name: string;
  readonly points: readonly Point[];
  readonly statistics: Statistics;
}

/** `witness-mark table NAMES…`: named values with their statistics, by group, as a table and as a plot. */
export async function table(
  names: readonly string[],
  options: TableOptions,
  outside: Outside,
): Promise<ExitStatus> {
  const fail = (says: string): ExitStatus => {
    outside.err(says);
    return EXIT.failed;
  };
  const by = options.by?.toLowerCase() ?? (options.compare === undefined ? undefined : "instrument");
  if (by !== undefined && !isField(by) && !GROUPINGS.includes(by)) {
    return fail(
      `Nothing is called \`${harmless(by)}\` to group by. Take a field of the front matter, or ${GROUPINGS.join(", ")}.\n`,
    );
  }
  const opened = await openBase(options.in ?? [], options.quiet, outside);
  if (opened === undefined) return EXIT.failed;
  const { base, failed } = opened;
  if (base.notes.length === 0) return fail("No job note was found.\n");
  let where: Asked | undefined;
  if (options.where !== undefined) {
    const reading = readCondition(options.where, base);
    if (!reading.ok) return fail(sayMisread(options.where, reading));
    where = reading.condition;
  }
  const columns: Column[] = [];
  for (const name of names) {
    const reading = readColumn(name, base);
    if (!reading.ok && existsSync(resolve(outside.folder, name)))
      return fail(
        `\`${harmless(name)}\` is a file or folder, and no reading. Say where to look with --in, as in --in ${harmless(name)}.\n`,
      );
    if (!reading.ok) return fail(sayMisread(name, reading));
    columns.push(reading.column);
  }
  const groups = groupsOf(base, columns, where, by);
  if (options.compare !== undefined) {
    const sides = options.compare.split(",").map((side) => side.trim());
    const [a, b] = sides;
    if (a === undefined || b === undefined || sides.length !== 2)
      return fail("Two are compared: write --compare with a comma between them, as in --compare P2,P4.\n");
    outside.out(writeComparison(comparisonOf(groups, a, b, outside), a, b, options.format));
  } else outside.out(WRITERS[options.format](groups, by));
  if (options.plot !== undefined) {
    const plot = plotTable(groups, options.against, by, base, outside);
    if (!plot.ok) return fail(plot.says);
    const fault = writeWhole(resolve(outside.folder, options.plot), plot.svg);
    if (fault !== undefined) return fail(`${harmless(options.plot)} ${fault}.\n`);
    if (!options.quiet) outside.err(`The plot is in ${harmless(options.plot)}.\n`);
  }
  return failed ? EXIT.failed : EXIT.clear;
}

function groupsOf(
  base: Base,
  columns: readonly Column[],
  where: Asked | undefined,
  by: string | undefined,
): Group[] {
  const kept = base.notes.flatMap((note, index) =>
    where === undefined || where.meets(index) !== undefined ? [{ note, index }] : [],
  );
  return columns.flatMap((column) => {
    const points = new Map<string, Point[]>();
    for (const { note, index } of kept) {
      for (const point of pointsOf(column, index, note)) {
        const name = by === undefined ? "" : groupOf(point, by);
        const own = points.get(name);
        if (own) own.push(point);
        else points.set(name, [point]);
      }
    }
    return [...points]
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
      .flatMap(([name, all]) => {
        const statistics = statisticsOf(all.map(({ value }) => value));
        return statistics ? [{ column, name, points: all, statistics }] : [];
      });
  });
}

type Write = (groups: readonly Group[], by: string | undefined) => string;

const FIGURES = ["mean", "least", "lowerQuarter", "median", "upperQuarter", "greatest"] as const;
const HEADS = ["mean", "least", "lower quarter", "median", "upper quarter", "greatest"];

const readable: Write = (groups, by) => {
  if (groups.length === 0) return "No note has such a value.\n";
  const several = by !== undefined;
  const rows = groups.map(({ column, name, statistics }) => {
    const { spread, count } = statistics;
    const figure = (value: number): string => inWords(value, null, "");
    const [mean = "", ...rest] = FIGURES.map((key) => figure(statistics[key]));
    return [
      column.unit.spelling === "" ? column.name : `${column.name} [${column.unit.spelling}]`,
      ...(several ? [name === "" ? "(none)" : name] : []),
      String(count),
      mean,
      spread === undefined ? "" : figure(spread),
      ...rest,
    ];
  });
  const [mean = "", ...rest] = HEADS;
  const first = several ? 2 : 1;
  const head = ["value", ...(several ? [by] : []), "count", mean, "spread", ...rest];
  return textTable(head, rows, (column) => column >= first);
};

const csv: Write = (groups, by) =>
  csvRows([
    ["value", "unit", ...(by === undefined ? [] : [by]), "count", "mean", "spread", ...HEADS.slice(1)],
    ...groups.map(({ column, name, statistics }) => [
      column.name,
      column.unit.spelling,
      ...(by === undefined ? [] : [name]),
      statistics.count,
      statistics.mean,
      statistics.spread ?? "",
      ...FIGURES.slice(1).map((key) => statistics[key]),
    ]),
  ]);

const json: Write = (groups, by) =>
  `${JSON.stringify({
    version: 1,
    by: by ?? null,
    groups: groups.map(({ column, name, statistics, points }) => ({
      value: column.name,
      unit: column.unit.spelling || null,
      group: by === undefined ? null : name,
      ...statistics,
      spread: statistics.spread ?? null,
      points: points.map((point) => ({
        path: point.note.path,
        job: point.note.fields.job ?? null,
        date: point.note.day ?? null,
        label: point.label === "" ? null : point.label,
        instrument: point.instrument ?? null,
        value: point.value,
        uncertainty: point.uncertainty ?? null,
      })),
    })),
  })}\n`;

const WRITERS: Readonly<Record<TableOptions["format"], Write>> = { readable, csv, json };
