import type { Analysis, NamedValue, Shown } from "../../analysis/analysis.ts";
import type { ReadingsLine } from "../../language/syntax.ts";
import type { Placed, ReadingsBlock } from "../../note/note.ts";
import { clock } from "./clock.ts";
import { findingsByLine, findingsList, type SheetFinding } from "./findings.ts";
import { type Html, html, minus } from "./html.ts";

const COLUMNS = 4;

const known = new WeakMap<Analysis, ReadonlyMap<number, NamedValue>>();

/** The values of a note by their lines; put together once, since every block asks. */
function valuesByLine(analysis: Analysis): ReadonlyMap<number, NamedValue> {
  const before = known.get(analysis);
  if (before) return before;
  const values = new Map(analysis.values.map((value) => [value.line, value]));
  known.set(analysis, values);
  return values;
}

/** A readings block as a table: what was read or worked out, its value with its uncertainty, and the findings. */
export function readingsTable(analysis: Analysis, block: ReadingsBlock): Html {
  const values = valuesByLine(analysis);
  const findings = findingsByLine(analysis, block);
  const rows = block.lines.map((placed) =>
    row(analysis, placed, values.get(placed.line), findings.at(placed.line)),
  );
  return html`<table class="wm-table wm-readings"><caption>Readings${block.label ? `: ${block.label}` : ""}</caption><thead><tr><th scope="col">Reading</th><th scope="col" class="wm-number">Value</th><th scope="col" class="wm-number">± (k = 2)</th><th scope="col">How</th></tr></thead><tbody>${rows}</tbody></table>${findingsList(findings.loose, true)}`;
}

function row(
  analysis: Analysis,
  placed: Placed<ReadingsLine>,
  value: NamedValue | undefined,
  findings: readonly SheetFinding[],
): Html {
  const { syntax } = placed;
  const text = analysis.note.text.slice(placed.offset, placed.offset + placed.length);
  const own = findingsRow(findings);
  const remark = remarkOf(syntax.comment?.text);
  switch (syntax.kind) {
    case "empty":
      return remark
        ? html`<tr><td class="wm-remark" colspan="${COLUMNS}">${remark}</td></tr>${own}`
        : html`${own}`;
    case "broken":
      return html`<tr><th scope="row">${syntax.name?.text ?? "—"}</th><td colspan="${COLUMNS - 1}"><code>${text.trim()}</code></td></tr>${own}`;
    case "formula": {
      const formula = text.slice(syntax.formula.span.from, syntax.formula.span.to);
      const how = html`<code>= ${formula}</code>`;
      return html`${nameCell(syntax.name.text, remark)}${valueCells(value?.shown, undefined)}<td>${how}</td></tr>${own}`;
    }
    case "measured": {
      const written = text.slice(syntax.value.span.from, syntax.tolerance?.span.to ?? syntax.value.span.to);
      const repeated = syntax.value.kind === "number" && syntax.value.numbers.length > 1;
      // The digits of a single reading stay as they were written: they tell how finely somebody read.
      const single = syntax.value.kind === "number" && !repeated && !syntax.displayUnit;
      const number = single ? text.slice(syntax.value.span.from, syntax.value.span.to) : undefined;
      const how = [
        ...(repeated ? [`mean of ${written}`] : syntax.tolerance ? [`given as ${written}`] : []),
        ...(syntax.instrument ? [`with ${syntax.instrument.text}`] : []),
        ...(syntax.at?.minutes === undefined ? [] : [`at ${clock(syntax.at.minutes)}`]),
      ].join(", ");
      return html`${nameCell(syntax.name.text, remark)}${valueCells(value?.shown, number)}<td>${how}</td></tr>${own}`;
    }
  }
}

const nameCell = (name: string, remark: string | undefined): Html =>
  html`<tr><th scope="row">${name}${remark && html`<br><span class="wm-remark">${remark}</span>`}</th>`;

function valueCells(shown: Shown | undefined, written: string | undefined): Html {
  if (!shown)
    return html`<td colspan="2" class="wm-missing">${written && `${written}: `}cannot be worked out</td>`;
  if (shown.kind !== "quantity") return html`<td colspan="2">${shown.text}</td>`;
  const [number = "", uncertainty] = shown.text.split(" ± ");
  return html`<td class="wm-number">${minus(written ?? number)}</td><td class="wm-number">${uncertainty}</td>`;
}

/** An accepted finding stands below its line in full, so its comment need not be shown twice. */
const remarkOf = (comment: string | undefined): string | undefined =>
  comment?.startsWith("accept") ? undefined : comment;

export const findingsRow = (findings: readonly SheetFinding[], columns = COLUMNS): Html | undefined =>
  findings.length === 0
    ? undefined
    : html`<tr class="wm-finding-row"><td colspan="${columns}">${findingsList(findings)}</td></tr>`;
