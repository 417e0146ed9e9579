import type { SeriesHeader, SeriesLine, SeriesRow } from "../language/syntax.ts";
import type { SeriesBlock } from "../note/note.ts";
import { type LogReading, logOf } from "../note/series-log.ts";
import { type OwnUnits, PLAIN_NUMBER, readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";
import { typeA } from "./measured.ts";
import type { Result, Sensitivities } from "./quantity.ts";
import type { Definition } from "./scope.ts";

/**
 * A column of a series as samples: its mean stands for it in plain arithmetic, functions such as `slope` see
 * every row. Rows with an empty or unreadable cell are left out of every column alike, so that columns stay
 * in step with each other. The rows stand in the note, or in a log that was handed in.
 */
export function columnValues(
  definition: Definition,
  logs: ReadonlyMap<string, LogReading>,
  own?: OwnUnits,
): Result {
  const { body, block } = definition;
  if (body.kind !== "column" || block.kind !== "series") return undefined;
  const header = body.placed.syntax;
  const column = header.columns[body.column];
  if (!column || header.problems.length > 0) return undefined;
  const reading = column.unit ? readUnit(column.unit.text, own) : ({ ok: true, unit: PLAIN_NUMBER } as const);
  if (!reading.ok) return undefined;
  const { unit } = reading;
  const found = isLogged(block)
    ? loggedNumbers(block, body.column, logs)
    : numbersOf(block, header, body.column);
  if (!found || found.numbers.length === 0) return undefined;
  const { step } = found;
  const values = Array.from(found.numbers, (number) => toSI(number, unit));
  const resolution = (step * Math.abs(unit.factor)) / Math.sqrt(12);
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  const shared: Sensitivities =
    resolution > 0
      ? new Map([[{ says: `resolution of ${definition.key}`, standard: resolution }, 1]])
      : new Map();
  const by = new Map(shared);
  const scatter = typeA(values, mean);
  if (scatter > 0)
    by.set(
      { says: `scatter of ${values.length} readings of ${definition.key}`, standard: scatter, normal: true },
      1,
    );
  return {
    kind: "quantity",
    si: mean,
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by,
    sampling: { values, resolution, shared, column: true },
  };
}

/** Whether the rows are said to stand in a file; then rows in the note do not count. */
const isLogged = (block: SeriesBlock): boolean =>
  block.content.trees.some((line) => line.kind === "option" && line.key.key === "from");

interface Numbers {
  readonly numbers: ArrayLike<number> & Iterable<number>;
  readonly step: number;
}

function loggedNumbers(
  block: SeriesBlock,
  column: number,
  logs: ReadonlyMap<string, LogReading>,
): Numbers | undefined {
  const log = logOf(block, logs);
  const logged = log?.ok ? log.columns[column] : undefined;
  return logged && { numbers: logged.values, step: logged.step };
}

function numbersOf(block: SeriesBlock, header: SeriesHeader, column: number): Numbers {
  const rows = wholeRows(block.content.trees, header);
  return {
    numbers: rows.map((row) => row.cells[column]?.value ?? Number.NaN),
    step: rows.slice(0, 1000).reduce((step, row) => Math.max(step, row.cells[column]?.step ?? 0), 0),
  };
}

function wholeRows(lines: readonly SeriesLine[], header: SeriesHeader): SeriesRow[] {
  const rows: SeriesRow[] = [];
  for (const line of lines) {
    if (line.kind !== "row" || line.cells.length !== header.columns.length) continue;
    if (line.cells.every((cell) => cell !== undefined)) rows.push(line);
  }
  return rows;
}
