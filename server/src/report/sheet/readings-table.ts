import type { Analysis, NamedValue } from "../../analysis/analysis.ts";
import type { ReadingsLine } from "../../language/syntax.ts";
import type { Placed, ReadingsBlock } from "../../note/note.ts";
import { clock } from "./clock.ts";
import { findingsIn, findingsList, type SheetFinding } from "./findings.ts";
import { type Html, html } from "./html.ts";

const COLUMNS = 5;

/** A readings block as a table: what was read or worked out, its value with its uncertainty, and the findings. */
export function readingsTable(analysis: Analysis, block: ReadingsBlock): Html {
  const values = new Map(analysis.values.map((value) => [value.line, value]));
  const findings = findingsIn(analysis, block);
  const rows = block.lines.map((placed) => row(analysis, placed, values.get(placed.line), findings));
  return html`<table class="wm-table wm-readings"><caption>Readings${block.label ? `: ${block.label}` : ""}</caption><thead><tr><th scope="col">Reading</th><th scope="col">As written</th><th scope="col" class="wm-number">Value</th><th scope="col" class="wm-number">± (k = 2)</th><th scope="col">Taken</th></tr></thead><tbody>${rows}</tbody></table>${findingsList(
    findings.filter(({ line }) => !block.lines.some((placed) => placed.line === line)),
    true,
  )}`;
}

function row(
  analysis: Analysis,
  placed: Placed<ReadingsLine>,
  value: NamedValue | undefined,
  findings: readonly SheetFinding[],
): Html {
  const { syntax } = placed;
  const text = analysis.note.text.slice(placed.offset, placed.offset + placed.length);
  const own = findingsRow(findings.filter(({ line }) => line === placed.line));
  const remark = remarkOf(syntax.comment?.text);
  switch (syntax.kind) {
    case "empty":
      return remark
        ? html`<tr><td class="wm-remark" colspan="${COLUMNS}">${remark}</td></tr>${own}`
        : html`${own}`;
    case "broken":
      return html`<tr><th scope="row">${syntax.name?.text ?? "—"}</th><td colspan="${COLUMNS - 1}"><code>${text.trim()}</code></td></tr>${own}`;
    case "formula": {
      const written = `= ${text.slice(syntax.formula.span.from, syntax.formula.span.to)}`;
      return html`<tr><th scope="row">${syntax.name.text}${remark && html`<br><span class="wm-remark">${remark}</span>`}</th><td><code>${written}</code></td>${valueCells(value)}<td></td></tr>${own}`;
    }
    case "measured": {
      const to = syntax.tolerance?.span.to ?? syntax.value.span.to;
      const written = syntax.value.kind === "text" ? "" : text.slice(syntax.value.span.from, to);
      const taken = [
        ...(syntax.instrument ? [`with ${syntax.instrument.text}`] : []),
        ...(syntax.at?.minutes === undefined ? [] : [`at ${clock(syntax.at.minutes)}`]),
      ].join(", ");
      return html`<tr><th scope="row">${syntax.name.text}${remark && html`<br><span class="wm-remark">${remark}</span>`}</th><td>${written}</td>${valueCells(value)}<td>${taken}</td></tr>${own}`;
    }
  }
}

function valueCells(value: NamedValue | undefined): Html {
  const shown = value?.shown;
  if (!shown) return html`<td colspan="2" class="wm-missing">cannot be worked out</td>`;
  if (shown.kind !== "quantity") return html`<td colspan="2">${shown.text}</td>`;
  const [number = "", uncertainty] = shown.text.split(" ± ");
  return html`<td class="wm-number">${number}</td><td class="wm-number">${uncertainty}</td>`;
}

/** An accepted finding stands below its line in full, so its comment need not be shown twice. */
const remarkOf = (comment: string | undefined): string | undefined =>
  comment?.startsWith("accept") ? undefined : comment;

export const findingsRow = (findings: readonly SheetFinding[], columns = COLUMNS): Html | undefined =>
  findings.length === 0
    ? undefined
    : html`<tr class="wm-finding-row"><td colspan="${columns}">${findingsList(findings)}</td></tr>`;
