/**
 * Numbers that look random and are the same on every run with the same seed (the "mulberry32" generator, in
 * the public domain). Good enough to vary notes; nothing more is asked of it.
 */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** From 0 up to, but not including, 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  /** A number from `low` to `high`, written with this many decimals. */
  decimal(low: number, high: number, places: number): string {
    return (low + this.next() * (high - low)).toFixed(places);
  }

  pick<T>(choices: readonly [T, ...T[]]): T {
    return choices[this.whole(0, choices.length - 1)] ?? choices[0];
  }
}
