import { dirname } from "node:path";
import type { LogReading, LogRequest } from "../note/series-log.ts";
import type { NoteSource } from "./note-source.ts";
import { keyOf, keyOfBytes } from "./pack.ts";
import { type BytesReading, readBytes, type TextReading, textOf } from "./read-text.ts";
import { type Seen, Watch } from "./seen.ts";

interface ShopRead {
  readonly reading: TextReading;
  readonly key: string;
}

/**
 * The disk as a source that tells what a result follows from: a key over the note's text, its shop file and whatever else
 * is given, and what was seen of other files while the note was analyzed. With both a result can be kept. The key is
 * that of the very bytes that are analyzed: read twice, a file that is saved in between would have its new result kept
 * under its old text, and whoever went back to that text would be shown it.
 */
export class KeyedSource implements NoteSource {
  readonly #watch = new Watch();
  readonly #shops = new Map<string, ShopRead>();
  #started: { readonly path: string; readonly reading: BytesReading } | undefined;

  constructor(private readonly inner: NoteSource) {}

  /** The key of a note's result; undefined for a file that cannot be read. Begins to watch for that note. */
  start(path: string, ...more: readonly string[]): string | undefined {
    const folder = dirname(path);
    this.#watch.start(folder);
    const shop = this.#shopKey(folder);
    // The bytes do: for a note whose result is kept no text need be made of them.
    const reading = readBytes(path);
    this.#started = { path, reading };
    return reading.ok ? keyOfBytes([shop, ...more], reading.bytes) : undefined;
  }

  /** What was seen since the start. */
  get seen(): readonly Seen[] {
    return this.#watch.seen;
  }

  read(path: string): TextReading {
    const shop = this.#shops.get(path);
    if (shop !== undefined) return shop.reading;
    const started = this.#started;
    this.#started = undefined;
    if (started?.path === path && started.reading.ok && started.reading.isFresh()) {
      return textOf(started.reading.bytes);
    }
    return this.inner.read(path);
  }

  exists(path: string): boolean {
    return this.#watch.exists(path);
  }

  shopFor(folder: string): string | undefined {
    return this.inner.shopFor(folder);
  }

  log(request: LogRequest, folder: string, root: string): LogReading {
    return this.#watch.log(request, folder, () => this.inner.log(request, folder, root));
  }

  #shopKey(folder: string): string {
    const path = this.inner.shopFor(folder);
    if (path === undefined) return "";
    const known = this.#shops.get(path);
    if (known !== undefined) return known.key;
    const reading = this.inner.read(path);
    const key = reading.ok ? keyOf(reading.text) : reading.reason;
    this.#shops.set(path, { reading, key });
    return key;
  }
}
