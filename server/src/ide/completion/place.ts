import type { Analysis } from "../../analysis/analysis.ts";
import type { Range } from "../../note/note.ts";
import type { LogRequest } from "../../note/series-log.ts";
import type { Shop } from "../../shop/shop.ts";
import type { LocatedLine } from "../locate.ts";

export type CompletionKind =
  | "unit"
  | "reading"
  | "expected reading"
  | "function"
  | "argument"
  | "instrument"
  | "step"
  | "outcome"
  | "place"
  | "key"
  | "option"
  | "file"
  | "value"
  | "block"
  | "word";

/** One word that may be put in. Lists of them are in the order in which they are to be offered. */
export interface Completion {
  readonly label: string;
  readonly kind: CompletionKind;
  /** What is put in, in place of `replaces`. Plain text, never a snippet. */
  readonly text: string;
  readonly replaces: Range;
  /** A few words beside the label. */
  readonly detail?: string;
  /** What more can be told of it, by name; asked for one by one when somebody looks at it. */
  readonly about?: string;
  /** What the typed letters are compared with, where it is not the label. */
  readonly filter?: string;
}

/** What can be seen of the logs beside a note, where there is a disk. */
export interface LogFiles {
  /** Paths as `from:` names them. */
  beside(): readonly string[];
  /** The first line of a log's table, cell by cell; empty where there is none. */
  heads(log: Pick<LogRequest, "path" | "separator" | "skip">): readonly string[];
}

export const NO_LOG_FILES: LogFiles = { beside: () => [], heads: () => [] };

/** Where a completion is asked for, inside a line of a block. */
export interface LinePlace {
  readonly analysis: Analysis;
  readonly shop: Shop;
  readonly line: LocatedLine;
  /** The line's content up to the cursor. */
  readonly before: string;
  /** Offset of the line's content in the note. */
  readonly start: number;
  readonly logs: LogFiles;
}

/** The range from a column of the line to the cursor. */
export const typedFrom = (place: LinePlace, column: number): Range => ({
  from: place.start + column,
  to: place.start + place.before.length,
});
