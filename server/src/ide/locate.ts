import { partsOf } from "../language/parts-of.ts";
import type { Expression, Name, Span, UnitText } from "../language/syntax.ts";
import type {
  Block,
  LimitsBlock,
  Note,
  Placed,
  Range,
  ReadingsBlock,
  SeriesBlock,
  StepsBlock,
} from "../note/note.ts";

/** A line of a block with the block it stands in. */
export type LocatedLine =
  | {
      readonly kind: "readings";
      readonly block: ReadingsBlock;
      readonly placed: ReadingsBlock["lines"][number];
    }
  | { readonly kind: "series"; readonly block: SeriesBlock; readonly placed: SeriesBlock["lines"][number] }
  | { readonly kind: "limits"; readonly block: LimitsBlock; readonly placed: LimitsBlock["lines"][number] }
  | { readonly kind: "steps"; readonly block: StepsBlock; readonly placed: StepsBlock["lines"][number] };

/** What stands under a place in a note. Names of readings are found by the analysis' name uses instead. */
export type Located =
  | { readonly kind: "unit"; readonly range: Range; readonly text: string }
  | { readonly kind: "function"; readonly range: Range; readonly name: Name }
  | { readonly kind: "instrument"; readonly range: Range; readonly name: Name }
  | { readonly kind: "step"; readonly range: Range; readonly name: Name };

/** The block that holds an offset, its fences included. */
export function blockAt(note: Note, offset: number): Block | undefined {
  return note.blocks.find((block) => block.range.from <= offset && offset <= block.range.to);
}

/** The line of a block that holds an offset. */
export function lineOf(note: Note, offset: number): LocatedLine | undefined {
  const block = blockAt(note, offset);
  switch (block?.kind) {
    case "readings": {
      const placed = placedAt(block.lines, offset);
      return placed && { kind: "readings", block, placed };
    }
    case "series": {
      const placed = placedAt(block.lines, offset);
      return placed && { kind: "series", block, placed };
    }
    case "limits": {
      const placed = placedAt(block.lines, offset);
      return placed && { kind: "limits", block, placed };
    }
    case "steps": {
      const placed = placedAt(block.lines, offset);
      return placed && { kind: "steps", block, placed };
    }
    default:
      return undefined;
  }
}

function placedAt<L>(lines: readonly Placed<L>[], offset: number): Placed<L> | undefined {
  let low = 0;
  let high = lines.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const line = lines[middle];
    if (!line) return undefined;
    if (offset < line.offset) high = middle - 1;
    else if (offset > line.offset + line.length) low = middle + 1;
    else return line;
  }
  return undefined;
}

export function locate(note: Note, offset: number): Located | undefined {
  const line = lineOf(note, offset);
  if (!line) return undefined;
  const at = offset - line.placed.offset;
  const range = (span: Span): Range => ({
    from: line.placed.offset + span.from,
    to: line.placed.offset + span.to,
  });
  const holds = (span: Span | undefined): boolean => span !== undefined && span.from <= at && at <= span.to;
  for (const unit of unitsOf(line)) {
    if (holds(unit.span)) return { kind: "unit", range: range(unit.span), text: unit.text };
  }
  if (line.kind === "readings" && line.placed.syntax.kind === "measured") {
    const name = line.placed.syntax.instrument;
    if (name && holds(name.span)) return { kind: "instrument", range: range(name.span), name };
  }
  if (line.kind === "steps" && line.placed.syntax.kind === "step") {
    const name = line.placed.syntax.step;
    if (holds(name.span)) return { kind: "step", range: range(name.span), name };
  }
  const formula = formulaOf(line);
  const call = formula && callAt(formula, at);
  return call && { kind: "function", range: range(call.span), name: call };
}

export function formulaOf(line: LocatedLine): Expression | undefined {
  if (line.kind === "readings" && line.placed.syntax.kind === "formula") return line.placed.syntax.formula;
  if (line.kind === "limits" && line.placed.syntax.kind === "limit") return line.placed.syntax.condition;
  return undefined;
}

function callAt(expression: Expression, at: number): Name | undefined {
  for (const node of partsOf(expression)) {
    if (node.kind === "call" && node.name.span.from <= at && at <= node.name.span.to) return node.name;
  }
  return undefined;
}

/** Every unit written on a line. */
function unitsOf(line: LocatedLine): UnitText[] {
  const found: (UnitText | undefined)[] = [];
  const syntax = line.placed.syntax;
  if (syntax.kind === "measured") {
    found.push(syntax.displayUnit, syntax.value.kind === "number" ? syntax.value.unit : undefined);
    found.push(syntax.tolerance?.unit);
  } else if (syntax.kind === "formula") {
    found.push(syntax.displayUnit, syntax.recorded?.unit);
  } else if (syntax.kind === "header") {
    for (const column of syntax.columns) found.push(column.unit);
  } else if (syntax.kind === "step") {
    for (const quantity of syntax.quantities) found.push(quantity.unit);
  }
  const formula = formulaOf(line);
  if (formula) {
    for (const node of partsOf(formula)) if (node.kind === "number") found.push(node.unit);
  }
  return found.filter((unit) => unit !== undefined);
}
