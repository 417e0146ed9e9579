import type { LimitsLine, ReadingsLine, SeriesLine, StepsLine } from "../language/syntax.ts";
import type { LineIndex } from "../text/line-index.ts";
import type { BlockContent } from "./block-content.ts";
import type { FrontMatter } from "./front-matter.ts";

/** A range in the note's text: UTF-16 offsets from its start. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** How much something wrong in a note or a shop file weighs. */
export type Severity = "error" | "warning" | "info";

/** One line inside a block with its syntax. `offset` turns the line's spans into ranges of the note. */
export interface Placed<L> {
  /** Line number in the note, from 0. */
  readonly line: number;
  /** Offset of the line's content (after quote marks or list indentation) in the note. */
  readonly offset: number;
  /** Length of the content in UTF-16 units. */
  readonly length: number;
  readonly syntax: L;
}

interface BlockBase {
  /** Info string after the kind: the label of `readings retest`, the name of `series decay`. */
  readonly label: string;
  /** The info string, for findings about the block itself. */
  readonly info: Range;
  /** From the opening fence to the end of the closing one (or of the last line). */
  readonly range: Range;
  /** Whether a closing fence stands at its end. */
  readonly closed: boolean;
}

export interface ReadingsBlock extends BlockBase {
  readonly kind: "readings";
  readonly content: BlockContent<ReadingsLine>;
  readonly lines: readonly Placed<ReadingsLine>[];
}
export interface SeriesBlock extends BlockBase {
  readonly kind: "series";
  readonly content: BlockContent<SeriesLine>;
  readonly lines: readonly Placed<SeriesLine>[];
}
export interface LimitsBlock extends BlockBase {
  readonly kind: "limits";
  readonly content: BlockContent<LimitsLine>;
  readonly lines: readonly Placed<LimitsLine>[];
}
export interface StepsBlock extends BlockBase {
  readonly kind: "steps";
  readonly content: BlockContent<StepsLine>;
  readonly lines: readonly Placed<StepsLine>[];
}

export type Block = ReadingsBlock | SeriesBlock | LimitsBlock | StepsBlock;

/** A link or picture target in the prose, for the check that the file is there. */
export interface ProseLink {
  readonly range: Range;
  readonly target: string;
  readonly picture: boolean;
}

/** `<!-- accept RULE: reason -->` before a block. */
export interface AcceptComment {
  readonly range: Range;
  readonly text: string;
  /** Index into `blocks` of the block right after it; undefined where none follows. */
  readonly block: number | undefined;
}

/** A job note, read: its syntax with ranges, nothing computed yet. */
export interface Note {
  readonly text: string;
  readonly lines: LineIndex;
  readonly frontMatter: FrontMatter;
  readonly blocks: readonly Block[];
  readonly links: readonly ProseLink[];
  readonly accepts: readonly AcceptComment[];
  /** The marks of fences that are no blocks but for a slip, such as `Readings` or `step`. */
  readonly strays: readonly { readonly range: Range; readonly meant: Block["kind"] }[];
}
