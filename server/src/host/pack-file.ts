import { createHash, type Hash, randomBytes } from "node:crypto";
import {
  closeSync,
  fstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";

/**
 * The file of a pack: MAGIC, 32 bytes of the build, the entries one after the other, for each its 16-byte key and
 * 32-bit length, the 32-bit count, and 32 bytes of SHA-256 over all before. Numbers are little-endian.
 */
const MAGIC = Buffer.from("witness-mark pack 2\n");
const HASH = 32;
export const KEY = 16;
const HEAD = MAGIC.length + HASH;
const TAIL = 4 + HASH;
const PIECE = 1024 * 1024;

/** Where an entry lies in a file. */
interface Place {
  readonly at: number;
  readonly length: number;
}

const WINDOW = 64 * 1024;

/** Reads entries from an open file, a stretch of it at a time, since they are mostly asked for in their order. */
class Window {
  #from = 0;
  #bytes = Buffer.alloc(0);

  constructor(private readonly file: number) {}

  read({ at, length }: Place): Buffer | undefined {
    if (at < this.#from || at + length > this.#from + this.#bytes.length) {
      const bytes = Buffer.allocUnsafeSlow(Math.max(WINDOW, length));
      this.#bytes = bytes.subarray(0, readFrom(this.file, bytes, at));
      this.#from = at;
    }
    const from = at - this.#from;
    return from + length > this.#bytes.length ? undefined : this.#bytes.subarray(from, from + length);
  }

  forget(): void {
    this.#bytes = Buffer.alloc(0);
  }
}

/** Fills a buffer from a place of a file on, as far as the file goes, and tells how far that was. */
function readFrom(file: number, bytes: Buffer, at: number): number {
  let filled = 0;
  while (filled < bytes.length) {
    const read = readSync(file, bytes, filled, bytes.length - filled, at + filled);
    if (read === 0) break;
    filled += read;
  }
  return filled;
}

/** What an earlier run left. The file stays open and its entries are read when they are asked for. */
export class PackReader {
  readonly #window: Window;

  private constructor(
    private readonly file: number,
    readonly places: ReadonlyMap<string, Place>,
  ) {
    this.#window = new Window(file);
  }

  static open(path: string, build: Buffer): PackReader | undefined {
    let file: number | undefined;
    try {
      file = openSync(path, "r");
      const places = placesIn(file, build);
      if (places !== undefined) return new PackReader(file, places);
    } catch {
      // Not there, or not to be read: the work is done anew.
    }
    if (file !== undefined) closeSync(file);
    return undefined;
  }

  get(key: string): Buffer | undefined {
    const place = this.places.get(key);
    try {
      return place && this.#window.read(place);
    } catch {
      return undefined;
    }
  }

  close(): void {
    closeSync(this.file);
  }
}

/** Writes a pack piece by piece. The first fault of the disk ends it, and then it leaves nothing behind. */
export class PackWriter {
  readonly places = new Map<string, Place>();
  readonly #temporary: string;
  readonly #hash: Hash = createHash("sha256");
  #waiting: Buffer[] = [];
  #size = 0;
  #at = 0;
  #file: number | undefined;
  #window: Window | undefined;

  constructor(
    private readonly path: string,
    build: Buffer,
  ) {
    this.#temporary = `${path}.${process.pid}-${randomBytes(4).toString("hex")}.tmp`;
    this.#try(() => {
      mkdirSync(dirname(path), { recursive: true });
      removeLeftOvers(path);
      this.#file = openSync(this.#temporary, "wx+", 0o600);
      this.#window = new Window(this.#file);
    });
    this.#write(MAGIC);
    this.#write(build);
  }

  add(key: string, entry: Buffer): void {
    this.places.set(key, { at: this.#at, length: entry.length });
    this.#write(entry);
  }

  get(key: string): Buffer | undefined {
    const place = this.places.get(key);
    if (place === undefined) return undefined;
    if (this.#waiting.length > 0) {
      this.#flush();
      // It may have been filled up to an end that is the end no more.
      this.#window?.forget();
    }
    let entry: Buffer | undefined;
    this.#try(() => {
      if (this.#file !== undefined) entry = this.#window?.read(place);
    });
    return entry;
  }

  finish(): void {
    for (const [key, { length }] of this.places) {
      const line = Buffer.alloc(KEY + 4);
      line.write(key, "latin1");
      line.writeUInt32LE(length, KEY);
      this.#write(line);
    }
    const count = Buffer.alloc(4);
    count.writeUInt32LE(this.places.size);
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
    this.#at += piece.length;
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
      if (this.#file !== undefined) closeQuietly(this.#file);
      this.#file = undefined;
      discard(this.#temporary);
    }
  }
}

function closeQuietly(file: number): void {
  try {
    closeSync(file);
  } catch {
    // Closed already.
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
    // Another run may have moved its file into place since.
    const found = statSync(left, { throwIfNoEntry: false });
    if (found && Date.now() - found.mtimeMs > HOUR) discard(left);
  }
}

/** Where the entries of a pack lie; undefined where the file is not fit for use. */
function placesIn(file: number, build: Buffer): Map<string, Place> | undefined {
  const { size } = fstatSync(file);
  const end = size - HASH;
  if (end < HEAD + 4) return undefined;
  const head = Buffer.alloc(HEAD);
  readFrom(file, head, 0);
  if (!head.subarray(0, MAGIC.length).equals(MAGIC)) return undefined;
  if (!head.subarray(MAGIC.length).equals(build)) return undefined;
  const tail = Buffer.alloc(TAIL);
  readFrom(file, tail, size - TAIL);
  if (!hashUpTo(file, end).equals(tail.subarray(4))) return undefined;
  const count = tail.readUInt32LE(0);
  const index = Buffer.alloc(count * (KEY + 4));
  readFrom(file, index, size - TAIL - index.length);
  const places = new Map<string, Place>();
  let at = HEAD;
  for (let line = 0; line < index.length; line += KEY + 4) {
    const length = index.readUInt32LE(line + KEY);
    places.set(index.toString("latin1", line, line + KEY), { at, length });
    at += length;
  }
  return places;
}

function hashUpTo(file: number, end: number): Buffer {
  const hash = createHash("sha256");
  const piece = Buffer.allocUnsafeSlow(PIECE);
  for (let at = 0; at < end; ) {
    const read = readSync(file, piece, 0, Math.min(PIECE, end - at), at);
    if (read === 0) break;
    hash.update(piece.subarray(0, read));
    at += read;
  }
  return hash.digest();
}
