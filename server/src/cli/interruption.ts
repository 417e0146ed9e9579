/**
 * Ctrl-C, or the wish of the system to end, while work is going on that has to be taken back: it is noted, and
 * whoever works looks at it between two pieces.
 */
export class Interruption {
  #wanted = false;
  readonly #want = (): void => {
    this.#wanted = true;
  };

  constructor() {
    process.on("SIGINT", this.#want);
    process.on("SIGTERM", this.#want);
  }

  get wanted(): boolean {
    return this.#wanted;
  }

  end(): void {
    process.off("SIGINT", this.#want);
    process.off("SIGTERM", this.#want);
  }

  /** Lets in what waits, such as a signal, and says whether to go on. */
  async goesOn(): Promise<boolean> {
    await new Promise((resolve) => setImmediate(resolve));
    return !this.#wanted;
  }
}
