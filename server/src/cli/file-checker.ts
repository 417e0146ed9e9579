import { KeyedSource } from "../host/keyed-source.ts";
import type { CommandLibraries } from "../host/libraries.ts";
import { fromDisk, type NoteSource } from "../host/note-source.ts";
import type { Seen } from "../host/seen.ts";
import { addTo, NOTHING, type Totals } from "../report/checked.ts";
import { NoteReader, ownFault, shownPath } from "./note-reader.ts";
import { type ReportForm, type WriteChecked, writerFor } from "./report-form.ts";

export { shownPath } from "./note-reader.ts";

/** What came of one file. Plain data, since it may come from another thread. */
export interface FileOutcome {
  /** The result, written in the form asked for. */
  readonly written?: string;
  readonly totals?: Totals;
  /** Path of the shop file that the note was checked with. */
  readonly shop?: string;
  /** Why the file could not be checked, as a clause that follows its name. */
  readonly failure?: string;
  /** Markdown that is no job note. */
  readonly noJob?: true;
  /** What is wrong with markdown that is no job note; of interest only where it was asked for by name. */
  readonly unreadable?: string;
  /** The hash of all that this follows from, save for the files in `seen`; only where it may be kept. */
  readonly key?: string;
  /** Files beside the note that it rests on. */
  readonly seen?: readonly Seen[];
}

/** What an outcome follows from besides the texts. */
export const keyParts = (path: string, folder: string, form: ReportForm): readonly string[] => [
  shownPath(path, folder),
  JSON.stringify(form),
];

/** Checks one file after the other and writes down the results. */
export class FileChecker {
  readonly #reader: NoteReader;
  readonly #write: WriteChecked;
  readonly #keyed: KeyedSource | undefined;

  /** Paths are shown as seen from `folder`. From a keyed source the outcomes can be kept. */
  constructor(
    private readonly folder: string,
    private readonly form: ReportForm,
    libraries: CommandLibraries,
    source: NoteSource = fromDisk(libraries),
  ) {
    this.#keyed = source instanceof KeyedSource ? source : undefined;
    this.#reader = new NoteReader(folder, libraries, source);
    this.#write = writerFor(form, libraries);
  }

  note(path: string): FileOutcome {
    if (this.#keyed === undefined) return this.#note(path);
    const key = this.#keyed.start(path, ...keyParts(path, this.folder, this.form));
    const outcome = this.#note(path);
    const { seen } = this.#keyed;
    return {
      ...outcome,
      ...(key === undefined ? {} : { key }),
      ...(seen.length > 0 ? { seen } : {}),
    };
  }

  #note(path: string): FileOutcome {
    const read = this.#reader.note(path);
    if (read.kind === "failure") return { failure: read.reason };
    if (read.kind === "no job")
      return { noJob: true, ...(read.unreadable === undefined ? {} : { unreadable: read.unreadable }) };
    const { note } = read;
    try {
      return {
        ...this.#written(note),
        totals: addTo(NOTHING, note),
        ...(note.shopPath === undefined ? {} : { shop: note.shopPath }),
      };
    } catch (fault) {
      return { failure: ownFault(fault) };
    }
  }

  /** What came of the shop file itself; nothing is written where nothing is wrong with it. */
  shop(path: string): FileOutcome {
    const { checked, failure } = this.#reader.shop(path);
    if (failure !== undefined) return { failure };
    return checked === undefined ? {} : { ...this.#written(checked), totals: addTo(NOTHING, checked) };
  }

  #written(checked: Parameters<WriteChecked>[0]): Pick<FileOutcome, "written"> {
    const written = this.#write(checked);
    return written === undefined ? {} : { written };
  }
}
