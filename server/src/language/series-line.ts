import { decimalCommaProblem, syntaxProblem } from "./problems.ts";
import { commentOf, takenNameProblem } from "./readings-line.ts";
import { commentStart, matchAt, readName, readNumber, skipBlanks, trimEnd } from "./scanner.ts";
import type { LineProblem, NumberText, SeriesHeader, SeriesLine, SeriesRow, Span } from "./syntax.ts";

const OPTION = /(from|skip|separator|decimal|columns)[ \t\u00a0]*:/iy;

/**
 * One line of a series: an option such as `from: logs/decay.csv`, the header `t [s], p [inH2O]`, or a row.
 *
 * @param columns  how many columns the header has; undefined while no header was read.
 */
export function readSeriesLine(text: string, columns: number | undefined): SeriesLine {
  const end = commentStart(text);
  const comment = commentOf(text, end);
  const extra = comment ? { comment } : {};
  const start = skipBlanks(text, 0);
  const to = trimEnd(text, start, end);
  if (start >= to) return { kind: "empty", problems: [], ...extra };
  const option = matchAt(OPTION, text, start);
  if (option) {
    const key = readName(text, start, false, to);
    const from = skipBlanks(text, start + option[0].length);
    if (key) {
      return {
        kind: "option",
        key,
        value: { span: { from: Math.min(from, to), to }, text: text.slice(from, to) },
        problems: [],
        ...extra,
      };
    }
  }
  const line = columns === undefined ? readHeader(text, start, to) : readRow(text, start, to, columns);
  return { ...line, ...extra };
}

/** A tab behind a unit and before a name; elsewhere in a header it is a blank like any other. */
const TABBED_HEADER = /\][ \u00a0]*\t[ \t\u00a0]*\p{L}/u;

/** Cells between commas, trimmed. A line without a comma may be pasted from a table, with tabs between its cells. */
function cells(text: string, start: number, to: number, tabs: RegExp): Span[] {
  const spans: Span[] = [];
  let from = start;
  const firstComma = text.indexOf(",", start);
  const isTabbed = (firstComma < 0 || firstComma >= to) && tabs.test(text.slice(start, to));
  const separator = isTabbed ? "\t" : ",";
  for (;;) {
    const comma = text.indexOf(separator, from);
    const end = comma < 0 || comma >= to ? to : comma;
    const first = Math.min(skipBlanks(text, from), end);
    spans.push({ from: first, to: trimEnd(text, first, end) });
    if (end === to) return spans;
    from = end + 1;
  }
}

function readHeader(text: string, start: number, to: number): SeriesHeader {
  const problems: LineProblem[] = [];
  const columns: SeriesHeader["columns"][number][] = [];
  const semicolon = text.indexOf(";", start);
  if (semicolon >= 0 && semicolon < to && !text.slice(start, to).includes(",")) {
    return { kind: "header", columns, problems: [semicolonsProblem(text, start, to)] };
  }
  for (const span of cells(text, start, to, TABBED_HEADER)) {
    const name = readName(text, span.from, false, span.to);
    const open = name ? skipBlanks(text, name.span.to) : span.to;
    if (!name || (open < span.to && (text[open] !== "[" || text[span.to - 1] !== "]"))) {
      if (problems.length === 0) {
        problems.push(
          syntaxProblem(
            span.from < span.to ? span : { from: Math.max(0, span.from - 1), to: span.to },
            "A series starts with a line that names its columns.",
            "Write each column's name with its unit in brackets, as in `t [s], p [inH2O]`.",
          ),
        );
      }
      continue;
    }
    const taken = takenNameProblem(text, name);
    if (taken && problems.length === 0) problems.push(taken);
    if (open >= span.to) columns.push({ span, name });
    else {
      const from = skipBlanks(text, open + 1);
      const unit = { from, to: Math.max(from, trimEnd(text, from, span.to - 1)) };
      columns.push({ span, name, unit: { span: unit, text: text.slice(unit.from, unit.to) } });
    }
  }
  return { kind: "header", columns, problems };
}

/** Told of once, at the header; its rows are the same. */
const semicolonsProblem = (text: string, from: number, to: number): LineProblem => ({
  ...syntaxProblem(
    { from, to },
    "The columns are separated by semicolons, and a series block takes commas.",
    "Put commas between the columns and decimal points into the numbers, also in the rows below; or keep the table in a file beside the note, with `from:`, `separator: ;` and `decimal: ,`.",
  ),
  fixes: [
    {
      title: "Put commas into this line",
      span: { from, to },
      text: text.slice(from, to).replace(/[ \t]*;[ \t]*/g, ", "),
    },
  ],
});

function readRow(text: string, start: number, to: number, columns: number): SeriesRow {
  const problems: LineProblem[] = [];
  // A header without columns has a finding of its own, and no row can fit it.
  if (columns === 0) return { kind: "row", cells: [], problems };
  const spans = cells(text, start, to, /\t/);
  const numbers: (NumberText | undefined)[] = [];
  for (const span of spans) {
    const negative = text[span.from] === "-" || text[span.from] === "−";
    const number = readNumber(text, negative ? span.from + 1 : span.from);
    const whole = number && number.span.to === span.to;
    numbers.push(whole ? { ...number, span, value: negative ? -number.value : number.value } : undefined);
    if (!whole && span.from < span.to && problems.length === 0) {
      problems.push(
        syntaxProblem(
          span,
          `\`${text.slice(span.from, span.to)}\` is not a number.`,
          "A row holds plain numbers; the header gives their units. Leave a cell empty where nothing was read.",
        ),
      );
    }
  }
  if (spans.length !== columns && problems.length === 0) {
    const first = spans[0] ? readNumber(text, spans[0].from) : undefined;
    const comma = first && spans.length > columns ? decimalCommaProblem(text, first, to) : undefined;
    problems.push(
      comma && spans.length === columns * 2
        ? { ...comma.problem, span: { from: start, to }, fixes: [] }
        : syntaxProblem(
            { from: start, to },
            `This row has ${spans.length} ${spans.length === 1 ? "cell" : "cells"}, the header names ${columns}.`,
            "Give every column a cell. Numbers take a decimal point; a comma separates cells.",
          ),
    );
  }
  return { kind: "row", cells: numbers, problems };
}
