import type { Analysis } from "../../analysis/analysis.ts";
import type { LimitOutcome } from "../../analysis/limits.ts";
import { show, shownUnit, uncertaintyInWords } from "../../analysis/showing.ts";
import type { LimitsLine } from "../../language/syntax.ts";
import type { LimitsBlock, Placed } from "../../note/note.ts";
import { findingsByLine, findingsList, type SheetFinding } from "./findings.ts";
import { type Html, html, minus } from "./html.ts";
import { type Mark, mark } from "./marks.ts";
import { findingsRow } from "./readings-table.ts";

const COLUMNS = 5;

/** A limits block as a table: what must hold, what it comes to, and the verdict in words. */
export function limitsTable(analysis: Analysis, block: LimitsBlock): Html {
  const findings = findingsByLine(analysis, block);
  const rows = block.lines.map((placed) =>
    rowsOf(
      analysis,
      placed,
      analysis.limits.filter((outcome) => outcome.placed.line === placed.line),
      findings.at(placed.line),
    ),
  );
  return html`<table class="wm-table wm-limits"><caption>Limits${block.label ? `: ${block.label}` : ""}</caption><thead><tr><th scope="col">Must hold</th><th scope="col" class="wm-number">Comes to</th><th scope="col" class="wm-number">Room left</th><th scope="col">Verdict</th><th scope="col">Source</th></tr></thead><tbody>${rows}</tbody></table>${findingsList(findings.loose, true)}`;
}

function rowsOf(
  { note }: Analysis,
  placed: Placed<LimitsLine>,
  outcomes: readonly LimitOutcome[],
  findings: readonly SheetFinding[],
): Html {
  const { syntax } = placed;
  const text = note.text.slice(placed.offset, placed.offset + placed.length);
  const own = findingsRow(findings, COLUMNS);
  if (syntax.kind === "empty") {
    const remark = syntax.comment?.text;
    return remark && !remark.startsWith("accept")
      ? html`<tr><td class="wm-remark" colspan="${COLUMNS}">${remark}</td></tr>${own}`
      : html`${own}`;
  }
  if (syntax.kind === "broken")
    return html`<tr><th scope="row"><code>${text.trim()}</code></th><td></td><td></td>${verdictCell("open", "cannot be decided")}<td></td></tr>${own}`;
  const source = syntax.source?.text;
  if (outcomes.length === 0) {
    const condition = text.slice(syntax.condition.span.from, syntax.condition.span.to);
    return html`<tr><th scope="row">${condition}</th><td></td><td></td>${verdictCell("open", "cannot be decided")}<td>${source}</td></tr>${own}`;
  }
  return html`${outcomes.map((outcome) => {
    const condition = text.slice(outcome.span.from, outcome.span.to);
    return html`<tr><th scope="row">${condition}</th><td class="wm-number">${outcome.left && minus(show(outcome.left).text)}</td><td class="wm-number">${room(outcome)}</td>${verdict(outcome)}<td>${source}</td></tr>`;
  })}${own}`;
}

/** The room left before the limit, in the unit of the value; nothing where it has none or is beyond. */
function room({ left, margin, verdict: decided, operator }: LimitOutcome): string | undefined {
  const unit = left && shownUnit(left);
  const ordered = operator === "<" || operator === "<=" || operator === ">" || operator === ">=";
  if (!unit || !ordered) return undefined;
  const size = uncertaintyInWords(Math.abs(margin) / Math.abs(unit.factor), differenceUnit(unit.spelling));
  return decided === "exceeded" ? `${size} beyond` : size;
}

/** The unit in which a difference of two points on a temperature scale is written. */
const differenceUnit = (spelling: string): string =>
  spelling === "degC" ? "K" : spelling === "degF" ? "delta degF" : spelling;

function verdict({ verdict: decided, acceptance }: LimitOutcome): Html {
  if (decided === "holds") return verdictCell("whole", "holds");
  if (decided === "not proven")
    return verdictCell("parted", "not proven: inside, but by less than the uncertainty");
  return verdictCell("shifted", acceptance ? "beyond the part's acceptance figure" : "exceeded");
}

const verdictCell = (which: Mark, words: string): Html =>
  html`<td class="wm-verdict">${mark(which)} ${words}</td>`;
