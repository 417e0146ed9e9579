/** Writes the line of progress on a terminal, replacing the last; an empty one clears it. */
export type ShowProgress = (line: string) => void;

const FIRST = 1000;
const AGAIN = 200;

/** How far a long piece of work is. Says nothing about what takes less than a second. */
export class Progress {
  #done = 0;
  #next = performance.now() + FIRST;
  #shown = false;

  constructor(
    private readonly what: string,
    private readonly total: number,
    private readonly line: ShowProgress | undefined,
  ) {}

  step(): void {
    this.#done++;
  }

  get due(): boolean {
    return this.line !== undefined && performance.now() >= this.#next;
  }

  draw(): void {
    this.#next = performance.now() + AGAIN;
    this.#shown = true;
    this.line?.(`${this.what}: ${this.#done} of ${this.total}`);
  }

  done(): void {
    if (this.#shown) this.line?.("");
  }
}
