import type { SeriesHeader, SeriesRow } from "../language/syntax.ts";
import type { Placed } from "../note/note.ts";
import { PLAIN_NUMBER, readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";
import { typeA } from "./measured.ts";
import type { Result, Sensitivities } from "./quantity.ts";
import type { Definition } from "./scope.ts";

/**
 * A column of a series as samples: its mean stands for it in plain arithmetic, functions such as `slope` see
 * every row. Rows with an empty or unreadable cell are left out of every column alike, so that columns stay
 * in step with each other.
 */
export function columnValues(definition: Definition): Result {
  const { body, block } = definition;
  if (body.kind !== "column" || block.kind !== "series") return undefined;
  const header = body.placed.syntax;
  const column = header.columns[body.column];
  if (!column || header.problems.length > 0) return undefined;
  const reading = column.unit ? readUnit(column.unit.text) : ({ ok: true, unit: PLAIN_NUMBER } as const);
  if (!reading.ok) return undefined;
  const { unit } = reading;
  const rows = wholeRows(block.lines, header);
  if (rows.length === 0) return undefined;
  const values = rows.map((row) => toSI(row.cells[body.column]?.value ?? Number.NaN, unit));
  const step = Math.max(...rows.slice(0, 1000).map((row) => row.cells[body.column]?.step ?? 0));
  const resolution = (step * Math.abs(unit.factor)) / Math.sqrt(12);
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  const shared: Sensitivities =
    resolution > 0
      ? new Map([[{ says: `resolution of ${definition.key}`, standard: resolution }, 1]])
      : new Map();
  const by = new Map(shared);
  const scatter = typeA(values, mean);
  if (scatter > 0)
    by.set({ says: `scatter of ${values.length} readings of ${definition.key}`, standard: scatter }, 1);
  return {
    kind: "quantity",
    si: mean,
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by,
    sampling: { values, resolution, shared },
  };
}

function wholeRows(lines: readonly Placed<{ readonly kind: string }>[], header: SeriesHeader): SeriesRow[] {
  const rows: SeriesRow[] = [];
  for (const { syntax } of lines) {
    if (!isRow(syntax) || syntax.cells.length !== header.columns.length) continue;
    if (syntax.cells.every((cell) => cell !== undefined)) rows.push(syntax);
  }
  return rows;
}

const isRow = (syntax: { readonly kind: string }): syntax is SeriesRow => syntax.kind === "row";
