import { nextTurn } from "./next-turn.ts";

/** How long work goes on before waiting requests are let in, in milliseconds. */
const SLICE = 2;
/** While somebody types, long work waits for a pause of this length, in milliseconds. */
const CALM = 60;
/** How often somebody who waits looks whether he still has to, in milliseconds. */
const LOOK_UP = 50;

/** Cuts long work in pieces, so that it holds up neither a keystroke nor a request. */
export class Turns {
  #started = 0;
  #typed = -CALM;

  /** Somebody typed in a note. */
  typed(): void {
    this.#typed = performance.now();
  }

  /** Called by long work as often as it can; comes back at once until a piece is done. */
  async give(): Promise<void> {
    if (performance.now() - this.#started < SLICE) return;
    do {
      await new Promise<void>((resolve) => nextTurn(resolve));
      const calm = CALM - (performance.now() - this.#typed);
      if (calm > 0) await new Promise<void>((resolve) => setTimeout(resolve, calm));
    } while (performance.now() - this.#typed < CALM);
    this.#started = performance.now();
  }

  /** Runs work that stops now and then, to its end; undefined when it is called off before. */
  async run<T>(work: Generator<void, T>, calledOff: () => boolean): Promise<T | undefined> {
    for (;;) {
      const step = work.next();
      if (step.done) return step.value;
      await this.give();
      if (calledOff()) return undefined;
    }
  }

  /** Waits for what somebody else does; undefined when it is called off before, however long the other takes. */
  async waitFor<T>(work: Promise<T>, calledOff: () => boolean): Promise<T | undefined> {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const off = new Promise<undefined>((resolve) => {
      const look = (): void => {
        if (calledOff()) resolve(undefined);
        else timer = setTimeout(look, LOOK_UP);
      };
      timer = setTimeout(look, LOOK_UP);
    });
    try {
      return await Promise.race([work, off]);
    } finally {
      clearTimeout(timer);
    }
  }
}
