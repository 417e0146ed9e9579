import pc from "picocolors";
import type { Checked, Totals } from "../report/checked.ts";
import { jsonNote, jsonPieces } from "../report/json.ts";
import { readableFindings, readableSummary, type Style } from "../report/readable.ts";
import { valuesTable } from "../report/values-table.ts";

/** How results are written. Plain data, since it is also sent to the threads that share the work. */
export interface ReportForm {
  readonly format: "readable" | "json";
  /** Readable only: errors alone, without a summary. */
  readonly quiet: boolean;
  /** Readable only: derived values too. The JSON always has all values. */
  readonly values: boolean;
  /** Bold and underlined text. */
  readonly emphasis: boolean;
  /** In cells of the terminal. */
  readonly width: number;
}

/** What stands before, between and after the results of the files. */
export interface Frame {
  readonly head: string;
  readonly between: string;
  tail(totals: Totals): string;
}

/** Writes the result of one file. */
export function writerFor(form: ReportForm): (checked: Checked) => string {
  if (form.format === "json") return (checked) => JSON.stringify(jsonNote(checked));
  const style = styleOf(form);
  const only = form.quiet ? "error" : undefined;
  return (checked) =>
    (form.values ? valuesTable(checked, style) : "") + readableFindings(checked, style, only);
}

export function frameFor(form: ReportForm): Frame {
  if (form.format === "json") return jsonPieces;
  return { head: "", between: "", tail: (totals) => (form.quiet ? "" : readableSummary(totals)) };
}

function styleOf({ emphasis, width }: ReportForm): Style {
  const { bold, underline } = pc.createColors(emphasis);
  return { width, bold, underline };
}
