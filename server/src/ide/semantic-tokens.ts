import type { Analysis } from "../analysis/analysis.ts";
import { collectNames, type Definition } from "../analysis/scope.ts";
import { partsOf } from "../language/parts-of.ts";
import type { Line, NumberText, UnitText } from "../language/syntax.ts";
import type { Range } from "../note/note.ts";
import type { Shop } from "../shop/shop.ts";
import { functionNamed } from "./look-up.ts";
import { at, mentionsOf } from "./mentions.ts";

export type TokenKind =
  | "reading"
  | "column"
  | "function"
  | "argument"
  | "number"
  | "unit"
  | "text"
  | "truth"
  | "instrument"
  | "step"
  | "place"
  | "outcome"
  | "comment";

export interface SemanticToken {
  readonly range: Range;
  readonly kind: TokenKind;
  /** Where the name gets its value. */
  readonly defines: boolean;
  /** What follows from a formula, as against what somebody read. */
  readonly derived: boolean;
}

/** What each piece of the blocks in a range is, in order and without overlaps. */
export function semanticTokens(analysis: Analysis, shop: Shop, within: Range): readonly SemanticToken[] {
  const { note } = analysis;
  const tokens: SemanticToken[] = [];
  const add = (range: Range, kind: TokenKind, defines = false, derived = false): void => {
    if (range.to > range.from) tokens.push({ range, kind, defines, derived });
  };
  const { byKey } = collectNames(note);
  for (const { kind, key, range, defines } of mentionsOf(analysis)) {
    if (range.to < within.from || range.from > within.to) continue;
    if (kind === "reading") {
      const definition = byKey.get(key);
      // A name that nothing defines has a finding already; it is left without colour of its own.
      if (definition) add(range, isColumn(definition) ? "column" : "reading", defines, isDerived(definition));
    } else add(range, kind, kind === "place" ? false : defines);
  }
  for (const block of note.blocks) {
    if (block.range.to < within.from || block.range.from > within.to) continue;
    for (const placed of block.lines) {
      if (placed.offset + placed.length < within.from || placed.offset > within.to) continue;
      for (const [span, kind] of piecesOf(placed.syntax, shop)) add(at(placed.offset, span), kind);
    }
  }
  tokens.sort((a, b) => a.range.from - b.range.from || a.range.to - b.range.to);
  let end = 0;
  return tokens.filter(({ range }) => {
    if (range.from < end) return false;
    end = range.to;
    return true;
  });
}

const isColumn = ({ body }: Definition): boolean => body.kind === "column";
const isDerived = ({ body }: Definition): boolean => body.kind === "line" && body.syntax.kind === "formula";

type Piece = readonly [Range, TokenKind];

/** The pieces of a line that are no mentions. */
function* piecesOf(syntax: Line, shop: Shop): Generator<Piece> {
  switch (syntax.kind) {
    case "measured":
      yield* unit(syntax.displayUnit);
      if (syntax.value.kind === "number") {
        for (const number of syntax.value.numbers) yield [number.span, "number"];
        yield* unit(syntax.value.unit);
      } else yield [syntax.value.span, syntax.value.kind];
      if (syntax.tolerance) yield* quantity(syntax.tolerance.number, syntax.tolerance.unit);
      if (syntax.at) yield [syntax.at.span, "number"];
      break;
    case "formula":
      yield* unit(syntax.displayUnit);
      if (syntax.recorded) yield* quantity(syntax.recorded.number, syntax.recorded.unit);
      break;
    case "header":
      for (const column of syntax.columns) yield* unit(column.unit);
      break;
    case "row":
      for (const cell of syntax.cells) if (cell) yield [cell.span, "number"];
      break;
    case "option":
      yield [syntax.value.span, "text"];
      break;
    case "limit":
      if (syntax.source) yield [syntax.source.span, "text"];
      break;
    case "date":
      yield [syntax.date.span, "number"];
      break;
    case "step":
      yield [syntax.time.span, "number"];
      yield [syntax.step.span, "step"];
      if (syntax.outcome) yield [syntax.outcome.span, "outcome"];
      for (const one of syntax.quantities) yield* quantity(one.number, one.unit);
      if (syntax.until) yield [syntax.until.time.span, "number"];
      break;
  }
  if (syntax.kind === "formula" || syntax.kind === "limit") yield* formulaPieces(syntax, shop);
  if (syntax.comment) yield [syntax.comment.span, "comment"];
}

function* formulaPieces(syntax: Extract<Line, { kind: "formula" | "limit" }>, shop: Shop): Generator<Piece> {
  const formula = syntax.kind === "formula" ? syntax.formula : syntax.condition;
  for (const node of partsOf(formula)) {
    if (node.kind === "number") yield* quantity(node.number, node.unit);
    else if (node.kind === "text" || node.kind === "truth") yield [node.span, node.kind];
    else if (node.kind === "call") {
      if (functionNamed(node.name.key, shop)) yield [node.name.span, "function"];
      for (const { label } of node.args) if (label) yield [label.span, "argument"];
    }
  }
}

function* quantity(number: NumberText, written: UnitText | undefined): Generator<Piece> {
  yield [number.span, "number"];
  yield* unit(written);
}

function* unit(written: UnitText | undefined): Generator<Piece> {
  if (written) yield [written.span, "unit"];
}
