import type { TextEdit } from "../analysis/analysis.ts";
import { readLimitsLine } from "../language/limits-line.ts";
import { readReadingsLine } from "../language/readings-line.ts";
import { readSeriesLine } from "../language/series-line.ts";
import { readStepsLine } from "../language/steps-line.ts";
import type { Line } from "../language/syntax.ts";
import type { Block, Note, Placed, Range } from "../note/note.ts";
import { cellsOf, type LineCells } from "./formatting/line-cells.ts";

/** Between what a line says and what is added to it. */
const GAP = "  ";
/** A line wider than this does not push the others' columns out of sight. */
const WIDEST = 80;
/** Lines beyond this are not read whole, and so are left alone. */
const LONGEST = 1900;

/**
 * Edits that write the blocks of a note as they are usually written: one blank where one belongs, signs in
 * their usual spelling, results, sources and comments under each other. Prose, values and words stay as they
 * are: a line is only changed if it reads as the same afterwards.
 */
export function format(note: Note, within: Range = { from: 0, to: note.text.length }): readonly TextEdit[] {
  const edits: TextEdit[] = [];
  for (const block of note.blocks) {
    if (block.range.to < within.from || block.range.from > within.to) continue;
    for (const { range, text } of formatBlock(note, block)) {
      if (range.to >= within.from && range.from <= within.to) edits.push({ range, text });
    }
  }
  return edits;
}

interface Formatted {
  readonly placed: Placed<Line>;
  readonly cells: LineCells;
}

function formatBlock(note: Note, block: Block): TextEdit[] {
  const lines: Formatted[] = [];
  for (const placed of block.lines) {
    if (placed.length > LONGEST) continue;
    const written = note.text.slice(placed.offset, placed.offset + placed.length);
    const cells = cellsOf(written, placed.syntax);
    if (cells && readsTheSame(block, placed.syntax, cells)) lines.push({ placed, cells });
  }
  const cores = new Map(coreTexts(lines));
  const addedAt = column(lines, ({ cells, placed }) => (cells.added === "" ? undefined : cores.get(placed)));
  const bodies = new Map(
    lines.map(({ placed, cells }) => [placed, join(cores.get(placed) ?? "", cells.added, addedAt)] as const),
  );
  const commentAt = column(lines, ({ cells, placed }) =>
    cells.comment === "" ? undefined : bodies.get(placed) || undefined,
  );
  return lines.flatMap(({ placed, cells }) => {
    const text = join(bodies.get(placed) ?? "", cells.comment, commentAt);
    const range = { from: placed.offset, to: placed.offset + placed.length };
    return note.text.slice(range.from, range.to) === text ? [] : { range, text };
  });
}

/** The cells of rows stand under each other; every other core is one text. */
function* coreTexts(lines: readonly Formatted[]): Generator<readonly [Placed<Line>, string]> {
  const widths: number[] = [];
  for (const { placed, cells } of lines) {
    if (placed.syntax.kind !== "row") continue;
    cells.core.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, width(cell));
    });
  }
  for (const { placed, cells } of lines) {
    const last = cells.core.length - 1;
    const padded = cells.core.map((cell, i) =>
      i < last ? `${cell},${" ".repeat(Math.max(0, (widths[i] ?? 0) - width(cell)))}` : cell,
    );
    yield [placed, padded.join(" ").trimEnd()];
  }
}

/** The column behind the widest of the texts that something is added to. */
function column(lines: readonly Formatted[], before: (line: Formatted) => string | undefined): number {
  let widest = 0;
  for (const line of lines) {
    const wide = width(before(line) ?? "");
    if (wide <= WIDEST) widest = Math.max(widest, wide);
  }
  return widest + GAP.length;
}

function join(text: string, added: string, at: number): string {
  if (added === "" || text === "") return text + added;
  return text + " ".repeat(Math.max(GAP.length, at - width(text))) + added;
}

const width = (text: string): number => [...text].length;

function readsTheSame(block: Block, syntax: Line, cells: LineCells): boolean {
  const core = cells.core.join(", ");
  const text = [core, cells.added, cells.comment].filter((part) => part !== "").join(GAP);
  return meaning(read(block, text, syntax)) === meaning(syntax);
}

function read(block: Block, text: string, like: Line): Line {
  switch (block.kind) {
    case "readings":
      return readReadingsLine(text);
    case "limits":
      return readLimitsLine(text);
    case "steps":
      return readStepsLine(text);
    case "series":
      return readSeriesLine(text, like.kind === "row" ? like.cells.length : undefined);
  }
}

/** What a line says, whatever the places at which it says it. */
const meaning = (syntax: Line): string =>
  JSON.stringify(syntax, (key, value: unknown) =>
    key === "span" || key === "operatorSpan" ? undefined : value,
  );
