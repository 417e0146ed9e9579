/**
 * Values by key, each at the key's place in a list. Several of these share the places, so that thousands of keys
 * are put into a table once and not for each; an editor keeps the places for as long as the keys stay the same.
 */
export class ByPlace<T> implements ReadonlyMap<string, T> {
  /** A place without a value counts as a key that is not there. */
  constructor(
    private readonly places: ReadonlyMap<string, number>,
    private readonly list: readonly (T | undefined)[],
  ) {}

  get(key: string): T | undefined {
    const at = this.places.get(key);
    return at === undefined ? undefined : this.list[at];
  }

  has(key: string): boolean {
    return this.get(key) !== undefined;
  }

  get size(): number {
    return this.list.reduce((count: number, value) => (value === undefined ? count : count + 1), 0);
  }

  *entries(): MapIterator<[string, T]> {
    for (const [key, at] of this.places) {
      const value = this.list[at];
      if (value !== undefined) yield [key, value];
    }
  }

  *keys(): MapIterator<string> {
    for (const [key] of this.entries()) yield key;
  }

  *values(): MapIterator<T> {
    for (const value of this.list) if (value !== undefined) yield value;
  }

  [Symbol.iterator](): MapIterator<[string, T]> {
    return this.entries();
  }

  forEach(each: (value: T, key: string, map: ReadonlyMap<string, T>) => void): void {
    for (const [key, value] of this) each(value, key, this);
  }
}
