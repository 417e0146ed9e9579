import type { SeriesLine } from "../language/syntax.ts";
import { logOf, logOptions } from "../note/series-log.ts";
import { TIME } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { type Report, rangeOn, type Subject } from "./rule.ts";

/** A later column of times may be about something else, as a cure time by depth is. */
const IS_CLOCK = /^(?:t|time|clock|elapsed(?: time)?)$/;

/** Where the time of a series runs back: a logger that started anew, or a slip of the pen. */
export function* timesRunningBack({ note, shop, logs }: Subject): Iterable<Report> {
  for (const block of note.blocks) {
    if (block.kind !== "series") continue;
    const index = block.content.once(placeOfHeader);
    const header = block.content.trees[index];
    if (header?.kind !== "header" || header.problems.length > 0) continue;
    const column = header.columns.findIndex(({ unit }) => {
      const reading = unit && readUnit(unit.text, shop.units);
      return reading?.ok && reading.unit.dimension === TIME;
    });
    const clock = header.columns[column];
    if (!clock) continue;
    if (column > 0 && !IS_CLOCK.test(clock.name.key)) continue;
    if (logOptions(block).request) {
      const log = logOf(block, logs);
      const values = log?.ok ? log.columns[column]?.values : undefined;
      const row = values ? values.findIndex((value, i) => i > 0 && value < (values[i - 1] ?? value)) : -1;
      const head = block.lines[index];
      if (values && head && row > 0)
        yield report(rangeOn(head, clock.span), row + 1, values[row - 1], values[row], clock.unit?.text);
      continue;
    }
    const back = block.content.once(rowsBack)[column];
    const placed = back && block.lines[back.index];
    const cell = placed?.syntax.kind === "row" ? placed.syntax.cells[column] : undefined;
    if (back && placed && cell)
      yield report(rangeOn(placed, cell.span), back.row, back.before, cell.value, clock.unit?.text);
  }
}

function report(
  range: Report["range"],
  row: number,
  before: number | undefined,
  now: number | undefined,
  unit: string | undefined,
): Report {
  return {
    range,
    message:
      `The time runs back in row ${row} of this series, from ${before} to ${now} ${unit ?? ""}.`.replace(
        " .",
        ".",
      ),
    advice:
      "Was the logger started anew there, or do two recordings stand in one series? Put each into a series of its own, or correct the time.",
    why: "A slope over time, and a leak rate from the time between two rows, rest on this column; they come out wrong where it runs back.",
  };
}

const placeOfHeader = (trees: readonly SeriesLine[]): number =>
  trees.findIndex(({ kind }) => kind === "header");

interface Back {
  /** Of the line in its block. */
  readonly index: number;
  /** Of the row, from 1. */
  readonly row: number;
  readonly before: number;
}

/** For each column the first row whose number is less than the one before it. */
function rowsBack(lines: readonly SeriesLine[]): readonly (Back | undefined)[] {
  const found: (Back | undefined)[] = [];
  const last: (number | undefined)[] = [];
  let row = 0;
  for (const [index, line] of lines.entries()) {
    if (line.kind !== "row") continue;
    row++;
    for (const [column, cell] of line.cells.entries()) {
      if (cell === undefined) continue;
      const before = last[column];
      if (before !== undefined && cell.value < before) found[column] ??= { index, row, before };
      last[column] = cell.value;
    }
  }
  return found;
}
