import type { Analysis } from "../../analysis/analysis.ts";
import type { StepLine } from "../../language/syntax.ts";
import type { StepsBlock } from "../../note/note.ts";
import { clock, span } from "./clock.ts";
import { findingsByLine, findingsList } from "./findings.ts";
import { type Html, html } from "./html.ts";
import { findingsRow } from "./readings-table.ts";

const COLUMNS = 4;

/** A steps block as a timeline: days, times, places and remarks, and at the end what is still to do. */
export function stepsTimeline(analysis: Analysis, block: StepsBlock): Html {
  const findings = findingsByLine(analysis, block);
  const text = (from: number, to: number) => analysis.note.text.slice(from, to);
  const groups: { readonly day: string | undefined; readonly rows: Html[] }[] = [
    { day: analysis.note.frontMatter.fields.date, rows: [] },
  ];
  let done = 0;
  let left = 0;
  for (const placed of block.lines) {
    const { syntax, line, offset, length } = placed;
    if (syntax.kind === "date") groups.push({ day: syntax.date.iso, rows: [] });
    const rows = groups[groups.length - 1]?.rows ?? [];
    if (syntax.kind === "step") {
      if (syntax.time.minutes === undefined) left++;
      else done++;
      rows.push(stepRow(syntax));
    } else if (syntax.kind === "broken")
      rows.push(
        html`<tr><td></td><td colspan="${COLUMNS - 1}"><code>${text(offset, offset + length).trim()}</code></td></tr>`,
      );
    else if (syntax.kind === "empty" && syntax.comment && !syntax.comment.text.startsWith("accept"))
      rows.push(
        html`<tr><td></td><td class="wm-remark" colspan="${COLUMNS - 1}">${syntax.comment.text}</td></tr>`,
      );
    const own = findingsRow(findings.at(line), COLUMNS);
    if (own) rows.push(own);
  }
  const bodies = groups
    .filter(({ rows }) => rows.length > 0)
    .map(
      ({ day, rows }) =>
        html`<tbody>${day && html`<tr class="wm-day"><th scope="rowgroup" colspan="${COLUMNS}">${day}</th></tr>`}${rows}</tbody>`,
    );
  return html`<table class="wm-table wm-steps"><caption>Steps${block.label ? `: ${block.label}` : ""} (${counted(done, left)})</caption><thead><tr><th scope="col">Time</th><th scope="col">Step</th><th scope="col">Place</th><th scope="col">Remark</th></tr></thead>${bodies}</table>${findingsList(findings.loose, true)}`;
}

const counted = (done: number, left: number): string =>
  [...(done > 0 ? [`${done} done`] : []), ...(left > 0 ? [`${left} still to do`] : [])].join(", ") ||
  "none yet";

function stepRow({ time, step, place, remark, until }: StepLine): Html {
  const toDo = time.minutes === undefined;
  const when = time.minutes === undefined ? "to do" : clock(time.minutes);
  return html`<tr class="${toDo ? "wm-step wm-todo" : "wm-step"}"><td class="wm-time">${when}${
    until && html`<br><span class="wm-until">${untilSays(time.minutes, until)}</span>`
  }</td><th scope="row">${step.text}</th><td>${place?.text}</td><td>${remark && withoutUntil(remark, until)}</td></tr>`;
}

function untilSays(start: number | undefined, { date, time }: NonNullable<StepLine["until"]>): string {
  if (time.minutes === undefined) return "";
  if (date) return `until ${date.iso} ${clock(time.minutes)}`;
  const lasts = start === undefined ? 0 : time.minutes - start;
  return `until ${clock(time.minutes)}${lasts > 0 ? ` (${span(lasts)})` : ""}`;
}

/** The remark without its closing `until …`, which stands under the time. */
function withoutUntil(remark: NonNullable<StepLine["remark"]>, until: StepLine["until"]): string {
  if (!until) return remark.text;
  const cut = until.span.from - remark.span.from;
  return cut < 0 ? remark.text : remark.text.slice(0, cut).replace(/[\s,;]+$/, "");
}
