import type { Fence } from "./fences.ts";
import { MarkdownMemo } from "./markdown-tree.ts";
import type { Block } from "./note.ts";

/**
 * Trees of lines by their text. A line's tree does not depend on where the line stands, so an editor hands
 * in the same memo at every keystroke and only the lines that changed are read again.
 */
export class LineMemo {
  readonly #trees = new Map<string, Map<string, unknown>>();

  /**
   * @param serves one text that is edited, or many notes: these share formulas and limits with each other, while
   *   readings, steps and rows are each note's own, and remembering them would cost more than it gains.
   */
  constructor(readonly serves: "one text" | "many notes" = "one text") {}

  /** `kind` keeps lines of different languages apart. */
  line<L>(kind: string, text: string, read: (text: string) => L): L {
    const shared = kind === "limits" || (kind === "readings" && text.includes("="));
    if (this.serves === "many notes" && !shared) return read(text);
    let trees = this.#trees.get(kind);
    if (!trees) {
      trees = new Map();
      this.#trees.set(kind, trees);
    }
    const known = trees.get(text);
    if (known !== undefined) return known as L;
    const own = copyOf(text);
    const made = read(own);
    // A long session must not grow without bound; reading again is cheap.
    if (trees.size > 30_000) trees.clear();
    trees.set(own, made);
    return made;
  }

  /** The tree of the last text, where one was needed. */
  readonly markdown = new MarkdownMemo();

  #before: readonly KeptBlock[] = [];
  #now: KeptBlock[] = [];
  /** Where in the reading before the next block is looked for. */
  #next = 0;

  /** Begins with the note as it is now; blocks of the reading before may be taken over. */
  turn(): void {
    this.#before = this.#now;
    this.#now = [];
    this.#next = 0;
  }

  /**
   * The block of the reading before that had this info string and these lines, wherever it stood. Blocks keep
   * their order: an edit makes one longer, takes one away or puts one in.
   */
  known(info: string, text: string): KeptBlock | undefined {
    for (const shift of SHIFTS) {
      const kept = this.#before[this.#next + shift];
      if (kept?.text !== text || kept.info !== info) continue;
      this.#next += shift;
      return kept;
    }
    return undefined;
  }

  /** Keeps a block for the next reading, and looks for the one behind it next. */
  keep(kept: KeptBlock): void {
    this.#now.push(kept);
    this.#next++;
  }
}

/** Where a block is looked for: in its turn, else one further or one back. */
const SHIFTS = [0, 1, -1];

/** A block as it was read last time, with what tells whether it still stands there unchanged. */
export class KeptBlock {
  constructor(
    readonly info: string,
    readonly text: string,
    readonly block: Block,
    private readonly line: number,
  ) {}

  /** Whether the block stands where it stood, so that it is the same with all that is known of it. */
  isAt(fence: Fence): boolean {
    const { block, line } = this;
    return (
      line === fence.firstLine &&
      block.range.from === fence.from &&
      block.range.to === fence.to &&
      block.closed === fence.closed &&
      block.info.from === fence.infoFrom
    );
  }
}

/**
 * The same text in memory of its own. A slice keeps the whole text that it was cut from, and what is remembered
 * here would keep every version of the note.
 */
export const copyOf = (text: string): string => ` ${text}`.slice(1);
