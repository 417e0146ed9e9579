import type { Finding, Severity } from "../../analysis/analysis.ts";
import type { Checked } from "../checked.ts";
import { placeOf } from "./places.ts";
import type { Since } from "./since.ts";

/**
 * Findings as lines that a server for continuous integration turns into remarks beside the changed lines:
 * `::error file=a.md,line=3,col=5,endLine=3,endColumn=9,title=rule::message`. With an earlier state at hand,
 * only what is new since then is said.
 */
const COMMAND: Readonly<Record<Severity, string>> = { error: "error", warning: "warning", info: "notice" };

/** The lines of one file; undefined where there are none. */
export function annotationLines(checked: Checked, since?: Since): string | undefined {
  const told = since === undefined ? checked.findings : checked.findings.filter(since.isNew);
  return told.length === 0 ? undefined : told.map((finding) => lineOf(finding, checked)).join("");
}

function lineOf(finding: Finding, checked: Checked): string {
  const { line, column, endLine, endColumn } = placeOf(finding.range, checked);
  const properties = {
    file: checked.path,
    line,
    col: column,
    endLine,
    // A column of another line than the first would be taken for one of the first.
    ...(endLine === line ? { endColumn } : {}),
    title: finding.rule,
  };
  const written = Object.entries(properties).map(([name, value]) => `${name}=${property(String(value))}`);
  return `::${COMMAND[finding.severity]} ${written.join(",")}::${message(`${finding.message} ${finding.advice}`)}\n`;
}

const message = (text: string): string =>
  text.replace(/%/g, "%25").replace(/\r/g, "%0D").replace(/\n/g, "%0A");

const property = (text: string): string => message(text).replace(/:/g, "%3A").replace(/,/g, "%2C");
