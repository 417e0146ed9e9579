import type { Base } from "../../base/base.ts";
import { type Column, pointsOf, readColumn } from "../../base/columns.ts";
import { type Dots, groupPlot } from "../../report/group-plot.ts";
import type { Outside } from "../outside.ts";
import { calibrationMarks } from "./calibrations.ts";
import { sayMisread } from "./say-misread.ts";
import type { Group } from "./table.ts";

type Plotted = { readonly ok: true; readonly svg: string } | { readonly ok: false; readonly says: string };

/**
 * The groups of the first value as a plot: over another value, over the days with the calibrations of their
 * instruments, or side by side.
 */
export function plotTable(
  groups: readonly Group[],
  against: string | undefined,
  by: string | undefined,
  base: Base,
  outside: Pick<Outside, "folder" | "libraries">,
): Plotted {
  const column = groups[0]?.column;
  if (column === undefined)
    return { ok: false, says: "There is nothing to plot: no note has such a value.\n" };
  const own = groups.filter((group) => group.column === column);
  const y = { name: column.name, unit: column.unit.spelling };
  if (against === undefined || against === "date") {
    const days = against === "date";
    const dots = own.map(({ name, points }): Dots => {
      return {
        name,
        points: points.flatMap((point) => {
          const x = days ? (point.note.day === undefined ? undefined : Date.parse(point.note.day)) : 0;
          return x === undefined ? [] : [{ x, y: point.value, uncertainty: point.uncertainty }];
        }),
      };
    });
    if (!days) return drawn(dots, { kind: "groups", name: by ?? "" }, y);
    const points = own.flatMap((group) => group.points);
    return drawn(dots, { kind: "days", marks: calibrationMarks(points, outside) }, y);
  }
  const reading = readColumn(against, base);
  if (!reading.ok) return { ok: false, says: sayMisread(against, reading) };
  const over = overEach(reading.column, base);
  const dots = own.map(({ name, points }): Dots => {
    return {
      name,
      points: points.flatMap((point) => {
        const x = over(point.note.path, point.label);
        return x === undefined ? [] : [{ x, y: point.value, uncertainty: point.uncertainty }];
      }),
    };
  });
  return drawn(dots, { kind: "values", name: reading.column.name, unit: reading.column.unit.spelling }, y);
}

/** The value across for each note: that of the same block, else the note's own. */
function overEach(column: Column, base: Base): (path: string, label: string) => number | undefined {
  const found = new Map<string, Map<string, number>>();
  base.notes.forEach((note, index) => {
    found.set(note.path, new Map(pointsOf(column, index, note).map(({ label, value }) => [label, value])));
  });
  return (path, label) => found.get(path)?.get(label) ?? found.get(path)?.get("");
}

function drawn(
  dots: readonly Dots[],
  across: Parameters<typeof groupPlot>[1],
  y: Parameters<typeof groupPlot>[2],
): Plotted {
  const svg = groupPlot(dots, across, y);
  return svg === undefined
    ? { ok: false, says: "There is nothing to plot: no note has both values.\n" }
    : { ok: true, svg };
}
