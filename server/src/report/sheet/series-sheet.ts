import type { Analysis } from "../../analysis/analysis.ts";
import type { SeriesHeader, SeriesRow } from "../../language/syntax.ts";
import type { SeriesBlock } from "../../note/note.ts";
import { findingsIn, findingsList } from "./findings.ts";
import { type Html, html } from "./html.ts";
import { type Plot, plotSvg } from "./plot.ts";

/** A page of numbers helps nobody; of a longer log the plot is shown and the rows stay in the note. */
const MOST_ROWS = 200;

type Column = SeriesHeader["columns"][number];

/** A series as plots of its columns against the first one, with the rows below them. */
export function seriesSheet(analysis: Analysis, block: SeriesBlock): Html {
  const { note } = analysis;
  let header: SeriesHeader | undefined;
  const rows: SeriesRow[] = [];
  let log: string | undefined;
  for (const { syntax } of block.lines) {
    if (syntax.kind === "header") header ??= syntax;
    else if (syntax.kind === "row") rows.push(syntax);
    else if (syntax.kind === "option" && syntax.key.key === "from") log = syntax.value.text;
  }
  const columns = header?.columns ?? [];
  const name = block.label || "series";
  const plots = plotsOf(name, columns, rows).map((plot) => plotSvg(plot));
  const table =
    rows.length === 0 || rows.length > MOST_ROWS
      ? html`<p class="wm-remark">${rows.length === 0 ? "No rows stand in the note." : `${rows.length} rows stand in the note.`}</p>`
      : html`<details class="wm-rows"><summary>${rows.length} ${rows.length === 1 ? "row" : "rows"}</summary><table class="wm-table wm-series"><thead><tr>${columns.map(
          (column) => html`<th scope="col" class="wm-number">${headed(column)}</th>`,
        )}</tr></thead><tbody>${block.lines.map(({ syntax, offset }) =>
          syntax.kind === "row"
            ? html`<tr>${syntax.cells.map((cell) => html`<td class="wm-number">${cell && note.text.slice(offset + cell.span.from, offset + cell.span.to)}</td>`)}</tr>`
            : "",
        )}</tbody></table></details>`;
  return html`<figure class="wm-figure"><figcaption>Series: ${name}</figcaption>${plots.map((plot) => plot ?? "")}${
    log && html`<p class="wm-remark">Logged in ${log}</p>`
  }${table}</figure>${findingsList(findingsIn(analysis, block), true)}`;
}

const inUnit = ({ name, unit }: Column): string => (unit ? `${name.text} in ${unit.text}` : name.text);
const headed = ({ name, unit }: Column): string => (unit ? `${name.text} [${unit.text}]` : name.text);

function plotsOf(name: string, columns: readonly Column[], rows: readonly SeriesRow[]): Plot[] {
  const [first, ...others] = columns;
  if (!first) return [];
  // A single column is plotted in the order in which it was read.
  const drawn = others.length > 0 ? others : [first];
  const x = others.length > 0 ? inUnit(first) : "row";
  return drawn.map((column, i) => {
    const points = rows.flatMap(({ cells }, row) => {
      const across = others.length > 0 ? cells[0]?.value : row + 1;
      const up = cells[others.length > 0 ? i + 1 : 0]?.value;
      return across === undefined || up === undefined ? [] : [[across, up] as const];
    });
    const y = inUnit(column);
    const ends = points.length > 0 ? `, from ${points[0]?.[1]} to ${points[points.length - 1]?.[1]}` : "";
    return { x, y, points, says: `${name}: ${y} against ${x}, ${points.length} points${ends}` };
  });
}
