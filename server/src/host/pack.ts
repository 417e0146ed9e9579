import { createHash, type Hash, randomBytes } from "node:crypto";
import {
  closeSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";

/**
 * Results kept from one run to the next, all in one file, each under a hash of everything that it follows
 * from. So an entry is never out of date, only unused. The file is written whole under another name and
 * moved into place, which a crash cannot cut in half; it names the build that wrote it and ends with a hash
 * of all the rest, and whatever does not fit is as good as no file.
 *
 * Layout: MAGIC, 32 bytes of the build, the entries one after the other, for each its 16-byte key and 32-bit
 * length, the 32-bit count, and 32 bytes of SHA-256 over all before. Numbers are little-endian.
 */
const MAGIC = Buffer.from("witness-mark pack 2\n");
const HASH = 32;
const KEY = 16;
const HEAD = MAGIC.length + HASH;
const TAIL = 4 + HASH;

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

const sha256 = (data: string | Buffer): Buffer => createHash("sha256").update(data).digest();

export class Pack {
  readonly #entries: Map<string, Buffer>;
  readonly #used = new Set<string>();
  readonly #added = new Set<string>();
  #writer: PackWriter | undefined;

  private constructor(
    private readonly path: string,
    private readonly build: Buffer,
  ) {
    this.#entries = readEntries(path, build);
  }

  /** Opens what an earlier run left; empty where there is nothing fit for use. `build` names the program. */
  static open(path: string, build: string): Pack {
    return new Pack(path, sha256(build));
  }

  /** How many entries earlier runs left. */
  get size(): number {
    return this.#entries.size;
  }

  /** What an earlier run left under a key. */
  get(key: string): Buffer | undefined {
    const entry = this.#entries.get(key);
    if (entry !== undefined) this.#used.add(key);
    return entry;
  }

  /** Takes an entry down for the next run. It goes to the disk at once, so that it takes up no memory. */
  set(key: string, entry: Buffer): void {
    if (this.#added.has(key)) return;
    this.#added.add(key);
    this.#writer ??= new PackWriter(this.path, this.build);
    this.#writer.add(key, entry);
  }

  /**
   * Puts what was taken down in the place of the old file, when anything is new. Never fails: without a cache
   * the next run takes longer, and that is all.
   */
  save(): void {
    const writer = this.#writer;
    if (writer === undefined) return;
    let unused = 0;
    for (const [key, entry] of this.#entries) {
      if (this.#added.has(key)) continue;
      if (!this.#used.has(key)) {
        unused += entry.length;
        if (unused > MOST_UNUSED_BYTES) continue;
      }
      writer.add(key, entry);
    }
    writer.finish();
    this.#writer = undefined;
  }
}

const PIECE = 1024 * 1024;

/** Writes a pack piece by piece. The first fault of the disk ends it, and then it leaves nothing behind. */
class PackWriter {
  readonly #temporary: string;
  readonly #hash: Hash = createHash("sha256");
  readonly #index: Buffer[] = [];
  #waiting: Buffer[] = [];
  #size = 0;
  #file: number | undefined;

  constructor(
    private readonly path: string,
    build: Buffer,
  ) {
    this.#temporary = `${path}.${process.pid}-${randomBytes(4).toString("hex")}.tmp`;
    this.#try(() => {
      mkdirSync(dirname(path), { recursive: true });
      removeLeftOvers(path);
      this.#file = openSync(this.#temporary, "wx", 0o600);
    });
    this.#write(MAGIC);
    this.#write(build);
  }

  add(key: string, entry: Buffer): void {
    const line = Buffer.alloc(KEY + 4);
    line.write(key, "latin1");
    line.writeUInt32LE(entry.length, KEY);
    this.#index.push(line);
    this.#write(entry);
  }

  finish(): void {
    const count = Buffer.alloc(4);
    count.writeUInt32LE(this.#index.length);
    for (const line of this.#index) this.#write(line);
    this.#write(count);
    this.#flush();
    const hash = this.#hash.digest();
    const file = this.#file;
    if (file === undefined) return;
    this.#try(() => {
      writeSync(file, hash);
      closeSync(file);
      renameSync(this.#temporary, this.path);
    });
  }

  #write(piece: Buffer): void {
    this.#waiting.push(piece);
    this.#size += piece.length;
    if (this.#size >= PIECE) this.#flush();
  }

  #flush(): void {
    const piece = Buffer.concat(this.#waiting);
    this.#waiting = [];
    this.#size = 0;
    const file = this.#file;
    if (file === undefined) return;
    this.#hash.update(piece);
    this.#try(() => {
      for (let at = 0; at < piece.length; ) at += writeSync(file, piece, at);
    });
  }

  #try(work: () => void): void {
    try {
      work();
    } catch {
      this.#file = undefined;
      discard(this.#temporary);
    }
  }
}

function discard(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // Where it cannot be removed it could not be written either.
  }
}

const HOUR = 3_600_000;

/** What runs that were cut off left behind; a run that is still going on is not that old. */
function removeLeftOvers(path: string): void {
  const folder = dirname(path);
  for (const name of readdirSync(folder)) {
    if (!name.startsWith(`${basename(path)}.`) || !name.endsWith(".tmp")) continue;
    const left = join(folder, name);
    if (Date.now() - statSync(left).mtimeMs > HOUR) discard(left);
  }
}

function readEntries(path: string, build: Buffer): Map<string, Buffer> {
  const entries = new Map<string, Buffer>();
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch {
    // Not there, or not to be read: the work is done anew.
    return entries;
  }
  const end = bytes.length - HASH;
  if (end < HEAD + 4 || !bytes.subarray(0, MAGIC.length).equals(MAGIC)) return entries;
  if (!bytes.subarray(MAGIC.length, HEAD).equals(build)) return entries;
  if (!sha256(bytes.subarray(0, end)).equals(bytes.subarray(end))) return entries;
  const count = bytes.readUInt32LE(bytes.length - TAIL);
  const index = bytes.length - TAIL - count * (KEY + 4);
  let at = HEAD;
  for (let i = 0; i < count; i++) {
    const place = index + i * (KEY + 4);
    const length = bytes.readUInt32LE(place + KEY);
    entries.set(bytes.toString("latin1", place, place + KEY), bytes.subarray(at, at + length));
    at += length;
  }
  return entries;
}
