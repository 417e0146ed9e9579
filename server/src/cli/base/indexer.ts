import { makeRecord } from "../../base/make-record.ts";
import { KeyedSource } from "../../host/keyed-source.ts";
import type { Libraries } from "../../host/libraries.ts";
import { fromDisk } from "../../host/note-source.ts";
import type { Seen } from "../../host/seen.ts";
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
  readonly #source: KeyedSource;
  #reader: NoteReader | undefined;

  constructor(
    private readonly folder: string,
    private readonly libraries: Libraries,
  ) {
    this.#source = new KeyedSource(fromDisk(libraries));
  }

  /** The key of a note's record; undefined for a file that cannot be read. */
  key(path: string): string | undefined {
    return this.#source.start(path);
  }

  note(path: string): Indexed {
    const key = this.key(path);
    this.#reader ??= new NoteReader(this.folder, this.libraries, this.#source);
    const read = this.#reader.note(path);
    if (read.kind === "failure") return { failure: read.reason };
    const known = key === undefined ? {} : { key };
    if (read.kind === "no job") {
      return { ...known, noJob: true, ...(read.unreadable ? { unreadable: read.unreadable } : {}) };
    }
    const record = JSON.stringify(makeRecord("", read.note.analysis, read.note.shop));
    const { seen } = this.#source;
    return { ...known, record, ...(seen.length > 0 ? { seen } : {}) };
  }
}
