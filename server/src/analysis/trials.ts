import type { Trial } from "./context.ts";
import type { Sensitivities, Source } from "./quantity.ts";

/** Half-width of a rectangle, and an outer point of a normal distribution, in standard uncertainties. */
const REACH = Math.sqrt(3);
const SEED = 0x9e3779b9;

/**
 * What each trial draws for each source. Drawn in even strata, one draw from each in a random order (latin
 * hypercube), which makes two thousand trials as good as many more; from a fixed seed, so that the same note
 * gives the same figures everywhere.
 */
export class Draws implements Trial {
  readonly #known = new Map<Source | string, { values: Float64Array | undefined }>();
  readonly #together: ReadonlySet<string>;
  #count = 0;
  /** -1: every source at its best value; -2: all at their upper ends; -3: only one moved. */
  #trial = -1;
  #moved: unknown;
  #side = 0;

  /** @param by sensitivities of the result, by which readings through one instrument are taken as one error */
  constructor(by: Sensitivities) {
    this.#together = sharedInstruments(by);
  }

  draw(source: Source): number {
    const { instrument } = source;
    // Errors of readings through one instrument are drawn as one where that is the more cautious.
    const shared = instrument !== undefined && this.#together.has(instrument) ? instrument : source;
    return source.standard * this.#unit(shared, source.normal ?? false);
  }

  drawOwn(at: number, standard: number): number {
    return standard * this.#unit(`call at ${at}`, true);
  }

  still(): void {
    this.#trial = -1;
  }

  together(): void {
    this.#trial = -2;
  }

  alone(source: unknown, side: 1 | -1): void {
    this.#trial = -3;
    this.#moved = source;
    this.#side = side;
  }

  /** Forgets what was drawn; from here on `at` counts up to this many trials. */
  prepare(trials: number): void {
    this.#count = trials;
    for (const known of this.#known.values()) known.values = undefined;
  }

  at(trial: number): void {
    this.#trial = trial;
  }

  /** Every source that was drawn so far. */
  sources(): readonly unknown[] {
    return [...this.#known.keys()];
  }

  /** In standard uncertainties. */
  #unit(key: Source | string, normal: boolean): number {
    let known = this.#known.get(key);
    if (!known) {
      known = { values: undefined };
      this.#known.set(key, known);
    }
    if (this.#trial === -1) return 0;
    if (this.#trial === -2) return REACH;
    if (this.#trial === -3) return key === this.#moved ? this.#side * REACH : 0;
    known.values ??= strata(this.#count, SEED + this.#order(key) * 7919, normal);
    return known.values[this.#trial] ?? 0;
  }

  #order(key: Source | string): number {
    return [...this.#known.keys()].indexOf(key) + 1;
  }
}

/** Instruments whose readings spread the result more when their errors go together. */
function sharedInstruments(by: Sensitivities): ReadonlySet<string> {
  const groups = new Map<string, { apart: number; together: number }>();
  for (const [{ instrument, standard }, c] of by) {
    if (instrument === undefined) continue;
    const group = groups.get(instrument) ?? { apart: 0, together: 0 };
    group.apart += (c * standard) ** 2;
    group.together += c * standard;
    groups.set(instrument, group);
  }
  const shared = [...groups].filter(([, { apart, together }]) => together ** 2 > apart * (1 + 1e-12));
  return new Set(shared.map(([instrument]) => instrument));
}

/** One draw from each of `count` even strata, in random order, with mean 0 and standard deviation 1. */
function strata(count: number, seed: number, normal: boolean): Float64Array {
  const random = generator(seed);
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const share = (i + random()) / count;
    values[i] = normal ? normalQuantile(share) : REACH * (2 * share - 1);
  }
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    const held = values[i] ?? 0;
    values[i] = values[j] ?? 0;
    values[j] = held;
  }
  return values;
}

/** Numbers between 0 and 1 from a 32-bit generator (mulberry32), the same on every machine. */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Quantile of the normal distribution by Abramowitz and Stegun 26.2.23, to 4.5e-4: ample for a simulation. */
function normalQuantile(share: number): number {
  const tail = Math.min(Math.max(Math.min(share, 1 - share), 1e-12), 0.5);
  const t = Math.sqrt(-2 * Math.log(tail));
  const top = 2.515517 + t * (0.802853 + t * 0.010328);
  const bottom = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  const z = t - top / bottom;
  return share < 0.5 ? -z : z;
}
