import { createHash, randomBytes } from "node:crypto";
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";

/**
 * Results kept from one run to the next, all in one file, each under a hash of everything that it follows
 * from. So an entry is never out of date, only unused. The file is written whole under another name and
 * moved into place, which a crash cannot cut in half; it starts with a hash of the rest and names the build
 * that wrote it, and whatever does not fit is as good as no file.
 *
 * Layout: MAGIC, 32 bytes SHA-256 of the rest; then 32 bytes of the build, a 32-bit count, so many pairs of
 * 16-byte key and 32-bit length, and the entries one after the other. Numbers are little-endian.
 */
const MAGIC = Buffer.from("witness-mark pack 1\n");
const HASH = 32;
const KEY = 16;
const HEAD = MAGIC.length + HASH;

/** Entries that this run did not ask for are kept up to this size: they belong to notes that were not asked about. */
const MOST_UNUSED_BYTES = 96 * 1024 * 1024;

/** A key over parts, none of which can run over into the next. */
export function keyOf(...parts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const part of parts) hash.update(`${part.length}:`).update(part);
  return hash.digest().toString("latin1", 0, KEY);
}

export class Pack {
  readonly #entries: Map<string, Buffer>;
  readonly #used = new Set<string>();
  #added = 0;

  private constructor(
    private readonly path: string,
    private readonly build: Buffer,
    entries: Map<string, Buffer>,
  ) {
    this.#entries = entries;
  }

  /** Opens what an earlier run left; empty where there is nothing fit for use. `build` names the program. */
  static open(path: string, build: string): Pack {
    const name = createHash("sha256").update(build).digest();
    let bytes: Buffer | undefined;
    try {
      bytes = readFileSync(path);
    } catch {
      // Not there, or not to be read: the work is done anew.
    }
    return new Pack(path, name, bytes === undefined ? new Map() : readEntries(bytes, name));
  }

  get size(): number {
    return this.#entries.size;
  }

  get(key: string): Buffer | undefined {
    const entry = this.#entries.get(key);
    if (entry !== undefined) this.#used.add(key);
    return entry;
  }

  set(key: string, entry: Buffer): void {
    this.#entries.set(key, entry);
    this.#used.add(key);
    this.#added++;
  }

  /**
   * Writes down what there is, when something is new. Never fails: without a cache the next run takes longer,
   * and that is all.
   */
  save(): void {
    if (this.#added === 0) return;
    const temporary = `${this.path}.${process.pid}-${randomBytes(4).toString("hex")}.tmp`;
    try {
      mkdirSync(dirname(this.path), { recursive: true });
      writeFileSync(temporary, this.#bytes(), { mode: 0o600 });
      renameSync(temporary, this.path);
      this.#added = 0;
    } catch {
      discard(temporary);
    }
  }

  #bytes(): Buffer {
    const kept: [string, Buffer][] = [];
    let unused = 0;
    for (const [key, entry] of this.#entries) {
      if (!this.#used.has(key)) {
        unused += entry.length;
        if (unused > MOST_UNUSED_BYTES) continue;
      }
      kept.push([key, entry]);
    }
    const length = kept.reduce((sum, [, entry]) => sum + KEY + 4 + entry.length, HEAD + HASH + 4);
    const bytes = Buffer.allocUnsafe(length);
    MAGIC.copy(bytes);
    let at = HEAD + this.build.copy(bytes, HEAD);
    at = bytes.writeUInt32LE(kept.length, at);
    for (const [key, entry] of kept) {
      at += bytes.write(key, at, "latin1");
      at = bytes.writeUInt32LE(entry.length, at);
    }
    for (const [, entry] of kept) at += entry.copy(bytes, at);
    createHash("sha256").update(bytes.subarray(HEAD)).digest().copy(bytes, MAGIC.length);
    return bytes;
  }
}

function discard(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // Where it cannot be removed it could not be written either.
  }
}

function readEntries(bytes: Buffer, build: Buffer): Map<string, Buffer> {
  const entries = new Map<string, Buffer>();
  const index = HEAD + HASH + 4;
  if (bytes.length < index || !bytes.subarray(0, MAGIC.length).equals(MAGIC)) return entries;
  if (!bytes.subarray(HEAD, HEAD + HASH).equals(build)) return entries;
  const whole = createHash("sha256").update(bytes.subarray(HEAD)).digest();
  if (!whole.equals(bytes.subarray(MAGIC.length, HEAD))) return entries;
  const count = bytes.readUInt32LE(index - 4);
  let at = index + count * (KEY + 4);
  for (let i = 0; i < count; i++) {
    const place = index + i * (KEY + 4);
    const length = bytes.readUInt32LE(place + KEY);
    entries.set(bytes.toString("latin1", place, place + KEY), bytes.subarray(at, at + length));
    at += length;
  }
  return entries;
}
