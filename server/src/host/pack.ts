import { createHash } from "node:crypto";
import { KEY, PackReader, PackWriter } from "./pack-file.ts";

/** Entries that this run did not ask for are kept up to this size: they belong to notes that were not asked about. */
const MOST_UNUSED_BYTES = 96 * 1024 * 1024;

/** A key over parts, none of which can run over into the next. */
export function keyOf(...parts: readonly string[]): string {
  return keyOfBytes(parts);
}

/** The same over parts and a file's bytes. */
export function keyOfBytes(parts: readonly string[], bytes?: Buffer): string {
  const hash = createHash("sha256");
  hash.update(parts.map((part) => `${part.length}:${part}`).join(""));
  if (bytes !== undefined) hash.update(bytes);
  return hash.digest().toString("latin1", 0, KEY);
}

const sha256 = (data: string): Buffer => createHash("sha256").update(data).digest();

/**
 * Results kept from one run to the next, all in one file, each under a hash of everything that it follows
 * from. So an entry is never out of date, only unused. The file is written whole under another name and
 * moved into place, which a crash cannot cut in half; it names the build that wrote it and ends with a hash
 * of all the rest, and whatever does not fit is as good as no file.
 */
export class Pack {
  #left: PackReader | undefined;
  readonly #used = new Set<string>();
  #writer: PackWriter | undefined;

  private constructor(
    private readonly path: string,
    private readonly build: Buffer,
  ) {
    this.#left = PackReader.open(path, build);
    this.size = this.#left?.places.size ?? 0;
  }

  /** How many entries earlier runs left. */
  readonly size: number;

  /** Opens what an earlier run left; empty where there is nothing fit for use. `build` names the program. */
  static open(path: string, build: string): Pack {
    return new Pack(path, sha256(build));
  }

  /** What this run took down under a key, else what an earlier one left. */
  get(key: string): Buffer | undefined {
    const entry = this.#writer?.get(key);
    if (entry !== undefined) return entry;
    const left = this.#left?.get(key);
    if (left !== undefined) this.#used.add(key);
    return left;
  }

  /** Takes an entry down for the next run. It goes to the disk at once, so that it takes up no memory. */
  set(key: string, entry: Buffer): void {
    this.#writer ??= new PackWriter(this.path, this.build);
    if (!this.#writer.places.has(key)) this.#writer.add(key, entry);
  }

  /**
   * Puts what was taken down in the place of the old file, when anything is new, and closes both. Never fails:
   * without a cache the next run takes longer, and that is all.
   */
  save(): void {
    const writer = this.#writer;
    const left = this.#left;
    this.#writer = undefined;
    this.#left = undefined;
    if (writer !== undefined && left !== undefined) {
      let unused = 0;
      for (const [key, { length }] of left.places) {
        if (writer.places.has(key)) continue;
        if (!this.#used.has(key)) {
          unused += length;
          if (unused > MOST_UNUSED_BYTES) continue;
        }
        const entry = left.get(key);
        if (entry !== undefined) writer.add(key, entry);
      }
    }
    // Before the new file takes its place, which not every system allows while it is open.
    left?.close();
    writer?.finish();
  }
}
