import type { LimitsLine, ReadingsLine, SeriesLine, StepsLine } from "../language/syntax.ts";
import type { BlockContent } from "./block-content.ts";
import type { Block, Note } from "./note.ts";

/** What makes a line worth a second look. Most lines have nothing of the kind. */
export type Mark =
  /** It could not be read. */
  | "broken"
  /** Its comment starts with `accept`, in whatever letters. */
  | "accept"
  /** Numbers with a comma in a step's remark. */
  | "comma"
  /** Numbers with a unit in a step's remark. */
  | "quantity"
  /** A reading through an instrument. */
  | "instrument"
  /** A formula with its recorded result. */
  | "recorded"
  /** The head of a series. */
  | "head"
  /** An option of a series, which says where its rows come from. */
  | "option";

type Line = ReadingsLine | LimitsLine | StepsLine | SeriesLine;

/** A line by its block and its number there. Where it stands is told when somebody asks the block. */
export interface MarkedLine {
  readonly block: Block;
  readonly index: number;
}

const NO_MARKS: readonly (readonly [Mark, number])[] = [];
const NO_LINES: readonly MarkedLine[] = [];

const ACCEPT = /^accept\b/i;

function* marksOf(line: Line): Iterable<Mark> {
  if (line.problems.length > 0) yield "broken";
  if ("comment" in line && line.comment && ACCEPT.test(line.comment.text)) yield "accept";
  switch (line.kind) {
    case "step":
      if (line.commas && line.commas.length > 0) yield "comma";
      if (line.quantities.length > 0) yield "quantity";
      break;
    case "measured":
      if (line.instrument) yield "instrument";
      break;
    case "formula":
      if (line.recorded) yield "recorded";
      break;
    case "header":
      yield "head";
      break;
    case "option":
      yield "option";
      break;
    default:
      break;
  }
}

function marksIn(trees: readonly Line[]): readonly (readonly [Mark, number])[] {
  const marks: [Mark, number][] = [];
  for (const [index, line] of trees.entries()) for (const mark of marksOf(line)) marks.push([mark, index]);
  return marks.length > 0 ? marks : NO_MARKS;
}

const gathered = new WeakMap<Note, Map<Mark, MarkedLine[]>>();

/** The lines of a note that have a mark, in order. All marks are gathered in one walk over the blocks. */
export function markedLines(note: Note, mark: Mark): readonly MarkedLine[] {
  let lines = gathered.get(note);
  if (!lines) {
    lines = gather(note);
    gathered.set(note, lines);
  }
  return lines.get(mark) ?? NO_LINES;
}

/** The lines of one kind of block that a piece of work picks by their numbers; see `BlockContent.once`. */
export function pickedLines<K extends Block["kind"], L>(
  note: Note,
  kind: K,
  pick: (trees: readonly L[]) => readonly number[],
): readonly { readonly block: Extract<Block, { kind: K }>; readonly index: number }[] {
  const picked: { block: Extract<Block, { kind: K }>; index: number }[] = [];
  for (const block of note.blocks) {
    if (block.kind !== kind) continue;
    // The kind decides what the lines are, which the type cannot follow.
    const own = block as Extract<Block, { kind: K }>;
    for (const index of (own.content as unknown as BlockContent<L>).once(pick))
      picked.push({ block: own, index });
  }
  return picked;
}

function gather(note: Note): Map<Mark, MarkedLine[]> {
  const all = new Map<Mark, MarkedLine[]>();
  for (const block of note.blocks) {
    for (const [mark, index] of block.content.once(marksIn)) {
      const lines = all.get(mark);
      if (lines) lines.push({ block, index });
      else all.set(mark, [{ block, index }]);
    }
  }
  return all;
}
