import { Base } from "./base.ts";
import type { NoteRecord } from "./record.ts";
import { WordIndex } from "./word-index.ts";

/**
 * A base of notes that come, change and go one at a time, each under a key of its own. The notes' words are
 * taken up only when somebody asks for words, and then piece by piece.
 */
export class LiveBase {
  readonly base = new Base([]);
  readonly words = new WordIndex();
  /** Notes with a lower number than this have their words in `words`. */
  #worded = 0;
  readonly #keys: string[] = [];
  readonly #numbers = new Map<string, number>();

  /** Puts a note in, in the place of the one under the same key. */
  set(key: string, note: NoteRecord): void {
    const number = this.#numbers.get(key) ?? this.#keys.length;
    this.#numbers.set(key, number);
    this.#keys[number] = key;
    this.base.put(number, note);
    if (number < this.#worded) this.words.put(number, note);
  }

  /** Takes a note out. The last one moves up into its place, so that numbers stay without a gap. */
  delete(key: string): void {
    const number = this.#numbers.get(key);
    const last = this.#keys.length - 1;
    const [lastKey, lastNote] = [this.#keys[last], this.base.notes[last]];
    if (number === undefined || lastKey === undefined || lastNote === undefined) return;
    if (number !== last) {
      this.#keys[number] = lastKey;
      this.#numbers.set(lastKey, number);
      this.base.put(number, lastNote);
      if (number < this.#worded) this.words.put(number, lastNote);
    }
    this.words.remove(last);
    this.base.pop();
    this.#keys.pop();
    this.#numbers.delete(key);
    this.#worded = Math.min(this.#worded, last);
  }

  /** The note's key by its number in the base. */
  keyOf(number: number): string | undefined {
    return this.#keys[number];
  }

  note(key: string): NoteRecord | undefined {
    const number = this.#numbers.get(key);
    return number === undefined ? undefined : this.base.notes[number];
  }

  /** Takes up the words of all notes; a caller that has to let others in stops between two steps. */
  *takeUpWords(): Generator<void, void> {
    for (;;) {
      const note = this.base.notes[this.#worded];
      if (note === undefined) return;
      this.words.put(this.#worded, note);
      this.#worded++;
      yield;
    }
  }
}
