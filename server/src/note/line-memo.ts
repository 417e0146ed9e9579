import { BlockContent } from "./block-content.ts";
import type { Fence } from "./fences.ts";
import { MarkdownMemo } from "./markdown-tree.ts";
import type { Block } from "./note.ts";

/**
 * Trees of lines by their text. A line's tree does not depend on where the line stands, so an editor hands
 * in the same memo at every keystroke and only the lines that changed are read again.
 */
export class LineMemo {
  readonly #trees = new Map<string, Map<string, unknown>>();

  /** `kind` keeps lines of different languages apart. */
  line<L>(kind: string, text: string, read: (text: string) => L): L {
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

  #before: readonly Kept[] = [];
  #now: Kept[] = [];
  /** Where in the reading before the next block is looked for. */
  #next = 0;

  /** Begins with the note as it is now; blocks of the reading before may be taken over. */
  turn(): void {
    this.#before = this.#now;
    this.#now = [];
    this.#next = 0;
  }

  /**
   * A block that is read or taken over. What stays as it is keeps its content; while its place stays as well it
   * is the same block, so that what is worked out for it can be kept with it.
   */
  block<L>(
    fence: Fence,
    info: string,
    kind: Block["kind"],
    text: string,
    read: () => readonly L[],
    place: (content: BlockContent<L>) => Block,
  ): Block {
    const known = this.#known(kind, text);
    const made = known
      ? isInPlace(known, fence, info)
        ? known
        : { ...known, block: place(known.content as BlockContent<L>), info, line: fence.firstLine }
      : this.#made(fence, info, kind, text, read, place);
    this.#now.push(made);
    return made.block;
  }

  #made<L>(
    fence: Fence,
    info: string,
    kind: Block["kind"],
    text: string,
    read: () => readonly L[],
    place: (content: BlockContent<L>) => Block,
  ): Kept {
    const content = new BlockContent(read());
    return { kind, text: copyOf(text), content, block: place(content), info, line: fence.firstLine };
  }

  /** Blocks keep their order; an edit makes one longer, takes one away or puts one in. */
  #known(kind: Block["kind"], text: string): Kept | undefined {
    const next = this.#next;
    for (const at of [next, next + 1, next - 1]) {
      const kept = this.#before[at];
      if (kept?.kind !== kind || kept.text !== text) continue;
      this.#next = at + 1;
      return kept;
    }
    this.#next = next + 1;
    return undefined;
  }
}

/** A block as it was read last time, with what tells whether it still stands there unchanged. */
interface Kept {
  readonly kind: Block["kind"];
  readonly text: string;
  readonly content: BlockContent<unknown>;
  readonly block: Block;
  readonly info: string;
  readonly line: number;
}

const isInPlace = (kept: Kept, fence: Fence, info: string): boolean =>
  kept.info === info &&
  kept.line === fence.firstLine &&
  kept.block.range.from === fence.from &&
  kept.block.range.to === fence.to &&
  kept.block.closed === fence.closed &&
  kept.block.info.from === fence.infoFrom;

/**
 * The same text in memory of its own. A slice keeps the whole text that it was cut from, and what is remembered
 * here would keep every version of the note.
 */
const copyOf = (text: string): string => ` ${text}`.slice(1);
