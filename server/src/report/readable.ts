import type { Finding, Severity } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { lineEnd, positionAt } from "../text/line-index.ts";
import type { Checked, Totals } from "./checked.ts";
import { harmless } from "./display-width.ts";
import { markLine, wrap } from "./source-line.ts";

/** How findings are to be written for somebody to read. */
export interface Style {
  /** Width in cells that lines keep to. */
  readonly width: number;
  /** Sets a text in bold or underlines it; both leave it alone where the output is no terminal. */
  readonly bold: (text: string) => string;
  readonly underline: (text: string) => string;
}

export const PLAIN: Style = { width: 100, bold: (text) => text, underline: (text) => text };

// Severity is told by its word. Colours would say more than is known: a note without errors is no proof
// that the vehicle is sound.
const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  error: "error",
  warning: "warning",
  info: "info",
};

const GUTTER = 6;

/** The findings of one file, each followed by an empty line. Empty when there are none. */
export function readableFindings(checked: Checked, style: Style, only?: Severity): string {
  let result = "";
  for (const finding of checked.findings) {
    if (only === undefined || finding.severity === only) result += readableFinding(finding, checked, style);
  }
  return result;
}

function readableFinding(finding: Finding, checked: Checked, style: Style): string {
  const { line, column } = positionAt(checked.lines, finding.range.from);
  const place = `${harmless(checked.path)}:${line + 1}:${column + 1}`;
  const out = [
    `${style.underline(place)}  ${severityWord(finding.severity, style)}  ${finding.rule}: ${harmless(finding.message)}`,
    ...excerpt(finding.range, checked, style),
    ...paragraph("Why: ", finding.why, style),
    ...paragraph("Do:  ", finding.advice, style),
  ];
  for (const related of finding.related) {
    out.push(...paragraph("See: ", related.message, style), ...excerpt(related.range, checked, style));
  }
  return `${out.join("\n")}\n\n`;
}

function severityWord(severity: Severity, style: Style): string {
  const word = SEVERITY_WORDS[severity];
  return severity === "error" ? style.bold(word) : word;
}

/** The line that a range starts on with its number, and a mark under the place. */
function excerpt(range: Range, { text, lines }: Checked, style: Style): string[] {
  const start = positionAt(lines, range.from);
  const end = positionAt(lines, range.to);
  const from = lines.starts[start.line] ?? 0;
  const line = text.slice(from, lineEnd(lines, text, start.line));
  const to = end.line === start.line ? end.column : line.length;
  const drawn = markLine(line, Math.min(start.column, line.length), to, style.width - GUTTER - 2);
  const number = String(start.line + 1).padStart(GUTTER);
  let mark = `${" ".repeat(GUTTER + 2)}${drawn.mark.replace(/\S+/, style.bold)}`;
  // The end of a range that closes with a line break stands at the start of the next line.
  const last = end.column === 0 && end.line > start.line ? end.line - 1 : end.line;
  if (last > start.line) mark += ` to line ${last + 1}`;
  if (drawn.words !== "") mark += ` that is: ${drawn.words}`;
  return [`${number}  ${drawn.source}`.trimEnd(), mark];
}

function paragraph(label: string, text: string, style: Style): string[] {
  if (text === "") return [];
  const indent = 4;
  const [first = "", ...rest] = wrap(text, style.width - indent - label.length);
  const hang = " ".repeat(indent + label.length);
  return [`${" ".repeat(indent)}${label}${first}`, ...rest.map((line) => hang + line)];
}

/** Of more procedures than this the cautions would bury the findings. */
const MOST_PROCEDURES = 3;

/** The cautions of the procedures that the notes work by, each once, with what goes before them. */
export function readableCautions(procedures: readonly Procedure[], style: Style): string {
  if (procedures.length === 0) return "";
  if (procedures.length > MOST_PROCEDURES) {
    return `${wrap(
      `These notes work by ${procedures.length} procedures; check fewer at once, or ask \`witness-mark next FILE\`, to see the cautions of each. The maker's service information goes before all of them.`,
      style.width,
    ).join("\n")}\n\n`;
  }
  const lines = procedures.flatMap(({ title, cautions, defer }) => [
    `Caution: ${title}`,
    ...cautions.flatMap((caution) => paragraph("- ", caution, style)),
    ...paragraph("", `First comes: ${defer.join("; ")}.`, style),
    "",
  ]);
  return `${lines.join("\n")}\n`;
}

/** The last line of a report. */
export function readableSummary(totals: Totals): string {
  if (totals.notes === 0 && totals.errors + totals.warnings + totals.remarks === 0) {
    return "No job note was found.\n";
  }
  const parts = [
    count(totals.errors, "error", "errors"),
    count(totals.warnings, "warning", "warnings"),
    count(totals.remarks, "for information", "for information"),
  ].filter((part) => part !== "");
  const checked = count(totals.notes, "job note", "job notes") || "no job note";
  return `Checked ${checked}: ${parts.length === 0 ? "nothing to report" : parts.join(", ")}.\n`;
}

export function count(number: number, one: string, many: string): string {
  if (number === 0) return "";
  // Thousands are set apart by a blank: a comma is a decimal sign to half of all readers.
  const digits = String(number).replace(/\B(?=(?:\d{3})+$)/g, "\u00a0");
  return `${digits} ${number === 1 ? one : many}`;
}
