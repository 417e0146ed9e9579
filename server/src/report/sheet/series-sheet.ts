import type { Analysis } from "../../analysis/analysis.ts";
import type { SeriesHeader, SeriesLine, SeriesRow } from "../../language/syntax.ts";
import type { BlockContent } from "../../note/block-content.ts";
import type { SeriesBlock } from "../../note/note.ts";
import { type LogReading, logOf } from "../../note/series-log.ts";
import { findingsIn, findingsList } from "./findings.ts";
import { type Html, html } from "./html.ts";
import { plotSvg } from "./plot.ts";
import { goesForward, type Rows, thinned } from "./thin.ts";

/** A page of numbers helps nobody; of a longer log the plot is shown and the rows stay in the note. */
const MOST_ROWS = 200;

type Column = SeriesHeader["columns"][number];

/** A series as plots of its columns against the first one, with the rows below them. */
export function seriesSheet(analysis: Analysis, block: SeriesBlock): Html {
  const log = block.content.once(logNamed);
  const reading = log === undefined ? undefined : logOf(block, analysis.logs);
  return html`<figure class="wm-figure"><figcaption>Series: ${nameOf(block)}</figcaption>${plots(block, log, reading)}${
    log === undefined ? rowsTable(analysis, block) : logRemark(log, reading)
  }</figure>${findingsList(findingsIn(analysis, block), true)}`;
}

const nameOf = ({ label }: SeriesBlock): string => label || "series";

const logNamed = (trees: readonly SeriesLine[]): string | undefined => {
  for (const tree of trees) if (tree.kind === "option" && tree.key.key === "from") return tree.value.text;
  return undefined;
};

const columnsOf = (trees: readonly SeriesLine[]): readonly Column[] =>
  trees.find((tree) => tree.kind === "header")?.columns ?? [];

const rowsOf = (trees: readonly SeriesLine[]): readonly SeriesRow[] =>
  trees.filter((tree) => tree.kind === "row");

/** Rows of a log where it was read, and why there is no plot where it was not. */
function logRemark(log: string, reading: LogReading | undefined): Html {
  if (!reading)
    return html`<p class="wm-remark">No plot: the rows stand in ${log}, and logs are read only where the note lies on a disk, not in a browser or on a virtual file system.</p>`;
  if (!reading.ok) return html`<p class="wm-remark">No plot: the log ${log} could not be read.</p>`;
  const { rows } = reading;
  return html`<p class="wm-remark">Logged in ${log}: ${rows} ${rows === 1 ? "row" : "rows"}</p>`;
}

function rowsTable({ note }: Analysis, block: SeriesBlock): Html {
  const { length } = block.content.once(rowsOf);
  if (length === 0 || length > MOST_ROWS)
    return html`<p class="wm-remark">${length === 0 ? "No rows stand in the note." : `${length} rows stand in the note.`}</p>`;
  return html`<details class="wm-rows"><summary>${length} ${length === 1 ? "row" : "rows"}</summary><table class="wm-table wm-series"><thead><tr>${block.content
    .once(columnsOf)
    .map(
      (column) => html`<th scope="col" class="wm-number">${headed(column)}</th>`,
    )}</tr></thead><tbody>${block.lines.map(({ syntax, offset }) =>
    syntax.kind === "row"
      ? html`<tr>${syntax.cells.map((cell) => html`<td class="wm-number">${cell && note.text.slice(offset + cell.span.from, offset + cell.span.to)}</td>`)}</tr>`
      : "",
  )}</tbody></table></details>`;
}

const inUnit = ({ name, unit }: Column): string => (unit ? `${name.text} in ${unit.text}` : name.text);
const headed = ({ name, unit }: Column): string => (unit ? `${name.text} [${unit.text}]` : name.text);

interface Drawn {
  readonly label: string;
  readonly content: BlockContent<SeriesLine>;
  readonly plots: readonly Html[];
}

/**
 * A preview is drawn again at every pause in the typing, and most series are as they were. Plots are kept by what
 * holds their rows, the block or the log, for as long as that is there.
 */
const drawn = new WeakMap<object, Drawn>();

function plots(
  block: SeriesBlock,
  log: string | undefined,
  reading: LogReading | undefined,
): readonly Html[] {
  const { content, label } = block;
  const holder = reading ?? content;
  const known = drawn.get(holder);
  if (known?.label === label && known.content === content) return known.plots;
  // Where the rows stand in a file, rows in the note are not read, and are not drawn either.
  const columns = log === undefined ? writtenColumns(content.once(rowsOf)) : loggedColumns(reading);
  const made = columns ? plotsOf(nameOf(block), content.once(columnsOf), columns) : [];
  drawn.set(holder, { label, content, plots: made });
  return made;
}

/** The rows in which two columns have a number; the places of the columns count from 0. */
type Columns = (across: number | undefined, up: number) => Rows;

function writtenColumns(rows: readonly SeriesRow[]): Columns {
  return (across, up) => {
    const points: [number, number][] = [];
    for (const [row, { cells }] of rows.entries()) {
      const x = across === undefined ? row + 1 : cells[across]?.value;
      const y = cells[up]?.value;
      if (x !== undefined && y !== undefined) points.push([x, y]);
    }
    return {
      count: points.length,
      x: (row) => points[row]?.[0] ?? 0,
      y: (row) => points[row]?.[1] ?? 0,
    };
  };
}

function loggedColumns(reading: LogReading | undefined): Columns | undefined {
  if (!reading?.ok) return undefined;
  const { columns, rows } = reading;
  return (across, up) => {
    const xs = across === undefined ? undefined : columns[across]?.values;
    const ys = columns[up]?.values;
    return { count: ys ? rows : 0, x: (row) => xs?.[row] ?? row + 1, y: (row) => ys?.[row] ?? 0 };
  };
}

function plotsOf(name: string, columns: readonly Column[], columnsOfRows: Columns): Html[] {
  const [first, ...others] = columns;
  if (!first) return [];
  // A single column is plotted in the order in which it was read.
  const alone = others.length === 0;
  const x = alone ? "row" : inUnit(first);
  return (alone ? [first] : others).flatMap((column, i) => {
    const rows = alone ? columnsOfRows(undefined, 0) : columnsOfRows(0, i + 1);
    const { count } = rows;
    const y = inUnit(column);
    const ends = count > 0 ? `, from ${rows.y(0)} to ${rows.y(count - 1)}` : "";
    const points = thinned(rows);
    // The reader who cannot see it is told as well that not every row is drawn.
    const some = points.length < count ? ", drawn with the lowest and the highest of every stretch" : "";
    const says = `${name}: ${y} against ${x}, ${count} points${ends}${some}`;
    return plotSvg({ x, y, points, says, scattered: !goesForward(rows) }) ?? [];
  });
}
