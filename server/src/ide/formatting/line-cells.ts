import type {
  Clock,
  FormulaLine,
  LimitLine,
  Line,
  MeasuredLine,
  SeriesRow,
  StepLine,
} from "../../language/syntax.ts";
import { formulaText, gapBefore, quantityText, raw } from "./formula-text.ts";

/** The parts of a line that stand under each other in their block: first what it says, then what belongs to it. */
export interface LineCells {
  /** The line up to its recorded result, source or comment; a row's cells one by one. */
  readonly core: readonly string[];
  /** The recorded result or the source of a limit. */
  readonly added: string;
  readonly comment: string;
}

/** A line taken apart; undefined for what is better left as it stands. */
export function cellsOf(line: string, syntax: Line): LineCells | undefined {
  if (syntax.problems.length > 0) return undefined;
  const comment = syntax.comment ? raw(line, syntax.comment.span).trim() : "";
  const cells = (core: string | readonly string[], added = ""): LineCells => ({
    core: typeof core === "string" ? [core] : core,
    added,
    comment,
  });
  const end = syntax.comment?.span.from ?? line.length;
  switch (syntax.kind) {
    case "empty":
      return cells("");
    case "measured":
      return cells(measured(line, syntax));
    case "formula":
      return cells(derived(line, syntax, end), syntax.recorded ? `≈ ${recorded(line, syntax.recorded)}` : "");
    case "limit":
      return cells(limit(line, syntax, end), syntax.source ? `source: ${syntax.source.text.trim()}` : "");
    case "date":
      return cells(syntax.date.iso);
    case "step":
      return cells(step(line, syntax, end));
    case "header":
      return cells(syntax.columns.map(({ name, unit }) => name.text + displayUnit(unit?.text)).join(", "));
    case "row":
      return cells(row(line, syntax, end));
    case "option":
      return cells(`${syntax.key.text}: ${syntax.value.text.trim()}`);
    case "broken":
      return undefined;
  }
}

const displayUnit = (unit: string | undefined): string => (unit === undefined ? "" : ` [${unit.trim()}]`);

function measured(line: string, syntax: MeasuredLine): string {
  const { name, value, tolerance, instrument, at } = syntax;
  const said =
    value.kind === "number"
      ? value.numbers.map((number) => raw(line, number.span)).join(", ") +
        (value.unit ? gapBefore(value.unit) + raw(line, value.unit.span) : "")
      : raw(line, value.span);
  const clauses: [number, string][] = [];
  if (tolerance)
    clauses.push([tolerance.span.from, `± ${quantityText(line, tolerance.number, tolerance.unit)}`]);
  if (instrument) clauses.push([instrument.span.from, `via ${instrument.text}`]);
  if (at) clauses.push([at.span.from, `at ${clock(at)}`]);
  // In the order in which they were written.
  clauses.sort(([a], [b]) => a - b);
  const head = `${name.text}${displayUnit(syntax.displayUnit?.text)}: ${said}`;
  return [head, ...clauses.map(([, text]) => text)].join(" ");
}

function derived(
  line: string,
  { name, displayUnit: unit, formula, recorded }: FormulaLine,
  end: number,
): string {
  const from = line.indexOf("=", unit?.span.to ?? name.span.to) + 1;
  const to = recorded
    ? line.slice(0, recorded.span.from).replace(/\s*(?:≈|~=)\s*$/, "").length
    : line.slice(0, end).trimEnd().length;
  return `${name.text}${displayUnit(unit?.text)} = ${formulaText(line, { from, to }, formula).trim()}`;
}

const recorded = (line: string, { number, unit }: NonNullable<FormulaLine["recorded"]>): string =>
  quantityText(line, number, unit);

function limit(line: string, { condition, acceptance, source }: LimitLine, end: number): string {
  let to = end;
  if (source) to = line.slice(0, source.span.from).replace(/source[ \t\u00a0]*:[ \t\u00a0]*$/i, "").length;
  if (acceptance) to = line.slice(0, to).trimEnd().length - "(acceptance)".length;
  const text = formulaText(line, { from: 0, to }, condition).trim();
  return acceptance ? `${text} (acceptance)` : text;
}

function step(line: string, { time, step: words, place, remark }: StepLine, end: number): string {
  const where = place ? ` [${place.text}]` : "";
  // A colon with nothing behind it yet is somebody about to write.
  const colon = remark === undefined && line.slice(0, end).trimEnd().endsWith(":") ? ":" : "";
  return `${clock(time)}  ${words.text}${where}${remark ? `: ${remark.text.trim()}` : colon}`;
}

function clock({ minutes }: Clock): string {
  if (minutes === undefined) return "--:--";
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

function row(line: string, { cells }: SeriesRow, end: number): string[] {
  const written = line.slice(0, end).split(",");
  return cells.map((_, i) => written[i]?.trim() ?? "");
}
