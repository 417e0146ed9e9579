import type { Fence } from "./fences.ts";
import type { Block, Placed, Range } from "./note.ts";

/**
 * The trees of a block's lines. An editor keeps the same object for as long as no edit changes the block's text,
 * wherever the block moves, so what follows from the lines alone is worked out once and kept here.
 */
export class BlockContent<L> {
  // A handful of questions at most, which a walk along a list answers sooner than a look-up.
  readonly #asked: unknown[] = [];
  readonly #answers: unknown[] = [];

  /** `starts` and `lengths` of the lines, the starts counted from that of the first. */
  constructor(
    readonly trees: readonly L[],
    readonly starts: readonly number[],
    readonly lengths: readonly number[],
  ) {}

  /**
   * What a piece of work on the lines came to. The work is told apart by its function, so that has to be one
   * that lasts, and it may look at nothing but the lines.
   */
  once<T>(work: (trees: readonly L[]) => T): T {
    const at = this.#asked.indexOf(work);
    if (at >= 0) return this.#answers[at] as T;
    const made = work(this.trees);
    this.#asked.push(work);
    this.#answers.push(made);
    return made;
  }
}

/** A block where it stands. Its lines are placed only when somebody asks for them. */
export class PlacedBlock<L> {
  readonly label: string;
  readonly info: Range;
  readonly range: Range;
  readonly closed: boolean;
  readonly #firstLine: number;
  readonly #contentFrom: number;
  #lines: readonly Placed<L>[] | undefined;

  constructor(
    readonly kind: Block["kind"],
    readonly content: BlockContent<L>,
    fence: Fence,
    info: string,
  ) {
    const space = info.search(/\s/);
    this.label = space < 0 ? "" : info.slice(space).trim().split(/\s+/).join(" ");
    this.info = { from: fence.infoFrom, to: fence.infoTo };
    this.range = { from: fence.from, to: fence.to };
    this.closed = fence.closed;
    // Not the fence itself: it knows the whole text, and an editor keeps a block longer than its text.
    this.#firstLine = fence.firstLine;
    this.#contentFrom = fence.contentFrom;
  }

  get lines(): readonly Placed<L>[] {
    const { trees, starts, lengths } = this.content;
    this.#lines ??= trees.map((syntax, i) => ({
      line: this.#firstLine + i,
      offset: this.#contentFrom + (starts[i] ?? 0),
      length: lengths[i] ?? 0,
      syntax,
    }));
    return this.#lines;
  }
}

/** Numbers of the lines that a test picks, from 0 in the block. */
export function linesThat<L>(trees: readonly L[], test: (tree: L) => boolean): readonly number[] {
  let picked: number[] | undefined;
  for (let i = 0; i < trees.length; i++) {
    if (test(trees[i] as L)) {
      picked ??= [];
      picked.push(i);
    }
  }
  return picked ?? NO_LINES;
}

const NO_LINES: readonly number[] = [];
