import type { Analysis, NamedValue } from "../analysis/analysis.ts";
import type { Checked } from "./checked.ts";
import { displayWidth, harmless } from "./display-width.ts";
import type { Style } from "./readable.ts";

/**
 * The derived values of one note as a table: name, value with its uncertainty and unit, and whether the
 * note records the result for readers without the tool. Empty for a note that derives nothing.
 */
export function valuesTable(checked: Checked, style: Style): string {
  const { analysis } = checked;
  if (analysis === undefined) return "";
  const derived = analysis.values.filter((value) => value.kind === "derived");
  if (derived.length === 0) return "";
  const states = recordedStates(analysis);
  const rows = derived.map((value) => [
    harmless(value.name),
    value.shown === undefined ? "cannot be worked out" : harmless(value.shown.text),
    states(value),
  ]);
  const widths = [0, 1].map((column) => Math.max(...rows.map((row) => displayWidth(row[column] ?? ""))));
  const { job, status } = analysis.note.frontMatter.fields;
  const heading = [
    harmless(checked.path),
    ...(job === undefined ? [] : [`job ${harmless(job)}`]),
    ...(status ? [status] : []),
  ];
  let result = `${style.bold(heading.join("  "))}\n`;
  for (const row of rows) {
    const cells = row.map(
      (cell, column) => cell + " ".repeat(Math.max(0, (widths[column] ?? 0) - displayWidth(cell))),
    );
    result += `    ${cells.join("   ").trimEnd()}\n`;
  }
  return `${result}\n`;
}

/** Tells of a derived value whether its result stands in the note, and whether it still holds. */
function recordedStates(analysis: Analysis): (value: NamedValue) => string {
  const recorded = new Set<number>();
  for (const block of analysis.note.blocks) {
    if (block.kind !== "readings") continue;
    for (const { line, syntax } of block.lines) {
      if (syntax.kind === "formula" && syntax.recorded !== undefined) recorded.add(line);
    }
  }
  const findings = [...analysis.findings, ...analysis.accepted.map(({ finding }) => finding)];
  const stale = findings.filter(({ rule }) => rule === "reading/stale-result");
  return ({ line, lineRange }) => {
    if (!recorded.has(line)) return "not recorded";
    const outOfDate = stale.some(({ range }) => range.from >= lineRange.from && range.from <= lineRange.to);
    return outOfDate ? "recorded, out of date" : "recorded";
  };
}
