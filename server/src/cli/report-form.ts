import pc from "picocolors";
import { version } from "../../../package.json";
import type { CommandLibraries } from "../host/libraries.ts";
import type { Checked, Totals } from "../report/checked.ts";
import { jsonNote, jsonPieces } from "../report/json.ts";
import { readableCautions, readableFindings, readableSummary, type Style } from "../report/readable.ts";
import { valuesTable } from "../report/values-table.ts";
import type { CHECK_FORMATS } from "./report-formats.ts";
import { ruleTexts } from "./rule-texts.ts";

/** How results are written. Plain data, since it is also sent to the threads that share the work. */
export interface ReportForm {
  readonly format: (typeof CHECK_FORMATS)[number];
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

/** Writes the result of one file; undefined where there is nothing to write. */
export type WriteChecked = (checked: Checked) => string | undefined;

type Reports = Pick<CommandLibraries, "reporting">;

export function writerFor(form: ReportForm, libraries: Reports): WriteChecked {
  switch (form.format) {
    case "json":
      return (checked) => JSON.stringify(jsonNote(checked));
    case "sarif":
      return (checked) => libraries.reporting().sarifResults(checked);
    case "junit":
      return (checked) => libraries.reporting().junitSuite(checked);
    case "annotations":
      return (checked) => libraries.reporting().annotationLines(checked);
    case "readable": {
      const style = styleOf(form);
      const only = form.quiet ? "error" : undefined;
      return (checked) =>
        (form.values ? valuesTable(checked, style) : "") + readableFindings(checked, style, only);
    }
  }
}

export function frameFor(form: ReportForm, libraries: Reports & Pick<CommandLibraries, "procedures">): Frame {
  switch (form.format) {
    case "json":
      return jsonPieces;
    case "sarif": {
      const { sarifHead, SARIF_TAIL } = libraries.reporting();
      return { head: sarifHead(ruleTexts(), version), between: ",\n", tail: () => SARIF_TAIL };
    }
    case "junit": {
      const { JUNIT_HEAD, JUNIT_TAIL } = libraries.reporting();
      return { head: JUNIT_HEAD, between: "", tail: () => JUNIT_TAIL };
    }
    case "annotations":
      return { head: "", between: "", tail: () => "" };
    case "readable":
      return {
        head: "",
        between: "",
        tail: (totals) => (form.quiet ? "" : closing(totals, form, libraries)),
      };
  }
}

function closing(
  totals: Totals,
  form: ReportForm,
  { procedures }: Pick<CommandLibraries, "procedures">,
): string {
  const named = procedures().filter(({ id }) => totals.procedures.includes(id));
  return readableCautions(named, styleOf(form)) + readableSummary(totals);
}

export function styleOf({ emphasis, width }: Pick<ReportForm, "emphasis" | "width">): Style {
  const { bold, underline } = pc.createColors(emphasis);
  return { width, bold, underline };
}
