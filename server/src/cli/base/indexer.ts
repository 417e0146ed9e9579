import { dirname } from "node:path";
import { makeRecord } from "../../base/make-record.ts";
import type { Libraries } from "../../host/libraries.ts";
import { fromDisk, type NoteSource } from "../../host/note-source.ts";
import { keyOf } from "../../host/pack.ts";
import type { TextReading } from "../../host/read-text.ts";
import { type Seen, Watch } from "../../host/seen.ts";
import { NoteReader } from "../note-reader.ts";

/** What came of one file. Plain data, since it may come from another thread. */
export interface Indexed {
  /** The hash of all that the record follows from, save for the files in `seen`. */
  readonly key?: string;
  /** The record as JSON, without its path. */
  readonly record?: string;
  readonly seen?: readonly Seen[];
  /** Markdown that is no job note. */
  readonly noJob?: true;
  readonly unreadable?: string;
  /** Why there is no record, as a clause that follows the file's name. */
  readonly failure?: string;
}

/** Makes records of notes, one after the other. */
export class Indexer {
  readonly #source: NoteSource;
  readonly #watch = new Watch();
  readonly #shops = new Map<string, string>();
  #reader: NoteReader | undefined;
  #last: { readonly path: string; readonly reading: TextReading } | undefined;

  constructor(
    private readonly folder: string,
    private readonly libraries: Libraries,
  ) {
    this.#source = fromDisk(libraries);
  }

  /** The key of a note's record; undefined for a file that cannot be read. */
  key(path: string): string | undefined {
    const reading = this.#read(path);
    return reading.ok ? keyOf(this.#shopText(dirname(path)), reading.text) : undefined;
  }

  note(path: string): Indexed {
    const key = this.key(path);
    this.#reader ??= new NoteReader(this.folder, this.libraries, {
      shopFor: (folder) => this.#source.shopFor(folder),
      read: (file) => this.#read(file),
      exists: (file) => this.#watch.exists(file),
      log: (request, folder, root) =>
        this.#watch.log(request, folder, this.#source.log(request, folder, root)),
    });
    this.#watch.start(dirname(path));
    const read = this.#reader.note(path);
    if (read.kind === "failure") return { failure: read.reason };
    const known = key === undefined ? {} : { key };
    if (read.kind === "no job") {
      return { ...known, noJob: true, ...(read.unreadable ? { unreadable: read.unreadable } : {}) };
    }
    const record = JSON.stringify(makeRecord("", read.note.analysis, read.note.shop));
    const { seen } = this.#watch;
    return { ...known, record, ...(seen.length > 0 ? { seen } : {}) };
  }

  /** A note is asked for twice in a row, once for its key and once to be read. */
  #read(path: string): TextReading {
    if (this.#last?.path !== path) this.#last = { path, reading: this.#source.read(path) };
    return this.#last.reading;
  }

  #shopText(folder: string): string {
    const path = this.#source.shopFor(folder);
    if (path === undefined) return "";
    const known = this.#shops.get(path);
    if (known !== undefined) return known;
    const reading = this.#source.read(path);
    const text = reading.ok ? keyOf(reading.text) : reading.reason;
    this.#shops.set(path, text);
    return text;
  }
}
