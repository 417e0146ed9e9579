import type { Name } from "../language/syntax.ts";
import type { LogReading } from "../note/series-log.ts";
import type { Shop } from "../shop/shop.ts";
import type { Evaluated } from "./evaluation.ts";
import { OrderMemo } from "./evaluation-order.ts";
import type { Result, Source } from "./quantity.ts";
import { NamesMemo } from "./scope.ts";

/** What was worked out last time, so that only what a change touches is worked out again. */
export class EvaluationMemo {
  #shop: Shop | undefined;
  #names: NameTests | undefined;
  /** By the key of the definition. What is no longer defined is let go when the names next change. */
  readonly values = new Map<string, Remembered>();
  /** Lines of each series by its label. */
  readonly series = new Map<
    string,
    { readonly lines: readonly unknown[]; readonly log: LogReading | undefined }
  >();
  /** Sources that stand for the same cause wherever it appears. */
  readonly assumed = new Map<string, Source>();
  readonly order = new OrderMemo();
  /** What the note's names were. */
  readonly scope = new NamesMemo();

  /** Another shop has other instruments, units and formulas, so nothing that was worked out still holds. */
  turnTo(shop: Shop): void {
    if (this.#shop === shop) return;
    this.values.clear();
    this.assumed.clear();
    this.#names = undefined;
    this.#shop = shop;
  }

  /** The tests of names that still hold: all of them for as long as the names stay the same. */
  namesOf(byKey: ReadonlyMap<string, Evaluated>, same: boolean): NameTests {
    if (same && this.#names) return this.#names;
    for (const key of this.values.keys()) if (!byKey.has(key)) this.values.delete(key);
    this.#names = new NameTests(byKey.keys());
    return this.#names;
  }
}

export interface Remembered {
  readonly syntax: unknown;
  readonly label: string;
  /** What each name meant when it was worked out. */
  readonly used: readonly Use[];
  /** With the definition as it last stood in the note. */
  evaluated: Evaluated;
}

export interface Use {
  readonly name: Asked;
  /** The full key that the name stood for; undefined when nothing defined it. */
  readonly key: string | undefined;
  readonly result: Result | "missing";
}

export type Asked = Pick<Name, "key" | "text">;

/** Whether every name that was used still has the result that it had. The names themselves have to be the same. */
export function sameResults(used: readonly Use[], byKey: ReadonlyMap<string, Evaluated>): boolean {
  for (const { key, result } of used) {
    if ((key === undefined ? "missing" : byKey.get(key)?.result) !== result) return false;
  }
  return true;
}

/**
 * Names of a note that pass a test. An editor keeps the answers for as long as the names stay the same, so that
 * thousands of names are not tested again at every keystroke.
 */
export class NameTests {
  readonly #passed = new Map<object, ReadonlySet<string>>();
  readonly #keys: readonly string[];
  #endings: ReadonlyMap<string, readonly number[]> | undefined;

  constructor(keys: Iterable<string>) {
    this.#keys = [...keys];
  }

  /** The question is told apart by `about`, an object that lasts. */
  that(about: object, test: (key: string) => boolean): ReadonlySet<string> {
    const known = this.#passed.get(about);
    if (known) return known;
    const made = new Set(this.#keys.filter(test));
    this.#passed.set(about, made);
    return made;
  }

  /**
   * Keys that are one of these names or end in one, as `retest test pressure` does in `test pressure`. The list of
   * names has to be one that lasts.
   */
  endingIn(names: readonly string[]): ReadonlySet<string> {
    const known = this.#passed.get(names);
    if (known) return known;
    this.#endings ??= endingsOf(this.#keys);
    const found: number[] = [];
    for (const name of names) found.push(...(this.#endings.get(name) ?? []));
    const made = new Set(found.sort((a, b) => a - b).map((at) => this.#keys[at] as string));
    this.#passed.set(names, made);
    return made;
  }
}

/** Places of the keys by every run of words that they end in, in lower case. */
function endingsOf(keys: readonly string[]): ReadonlyMap<string, readonly number[]> {
  const endings = new Map<string, number[]>();
  for (const [at, key] of keys.entries()) {
    let ending = key.toLowerCase();
    for (;;) {
      const places = endings.get(ending);
      if (places) places.push(at);
      else endings.set(ending, [at]);
      const blank = ending.indexOf(" ");
      if (blank < 0) break;
      ending = ending.slice(blank + 1);
    }
  }
  return endings;
}
