import { type Html, html } from "../sheet/html.ts";
import type { Entry } from "./catalog.ts";
import { wayTo } from "./site-map.ts";

/** A page with more rows than this is slow to open and nobody reads it; the search finds the rest. */
export const MOST_ROWS = 1000;

/** Notes as a table, one row each. `from` is the page that it stands on. */
export function notesTable(caption: string, entries: readonly Entry[], from: string): Html {
  if (entries.length === 0) return html`<p>None.</p>`;
  const rows = entries.slice(0, MOST_ROWS);
  const cut =
    rows.length < entries.length
      ? html`<p>The ${rows.length} latest of ${entries.length} are shown; the search finds all.</p>`
      : undefined;
  return html`${cut}${listTable(
    caption,
    ["Day", "Job", "Subject", "Procedure", "Vehicle", "State", "Checked"],
    rows.map(
      (entry) =>
        html`<tr><td class="day">${entry.record.day}</td><th scope="row" class="job-number"><a href="${wayTo(entry.page, from)}">${entry.job}</a></th><td>${entry.subject}</td><td>${entry.procedure}</td><td>${entry.vehicle}</td><td>${entry.state}</td><td>${checkedSays(entry)}</td></tr>`,
    ),
  )}`;
}

/** A table that scrolls by itself where the window is too narrow for it. A column that ends in `#` holds numbers. */
export function listTable(caption: string, columns: readonly string[], rows: readonly Html[]): Html {
  return html`<div class="scroll" role="region" aria-label="${caption}" tabindex="0"><table class="list"><caption>${caption}</caption><thead><tr>${columns.map(
    (column) =>
      column.endsWith("#")
        ? html`<th scope="col" class="number">${column.slice(0, -1)}</th>`
        : html`<th scope="col">${column}</th>`,
  )}</tr></thead><tbody>${rows}</tbody></table></div>`;
}

function checkedSays({ errors, warnings, accepted }: Entry): string {
  const parts = [
    errors > 0 ? `${errors} ${errors === 1 ? "error" : "errors"}` : "",
    warnings > 0 ? `${warnings} ${warnings === 1 ? "warning" : "warnings"}` : "",
    accepted > 0 ? `${accepted} accepted` : "",
  ].filter((part) => part !== "");
  return parts.length === 0 ? "nothing to report" : parts.join(", ");
}

export const counted = (number: number, one: string, many: string): string =>
  `${String(number).replace(/\B(?=(?:\d{3})+$)/g, "\u00a0")} ${number === 1 ? one : many}`;
