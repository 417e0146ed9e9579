import type { CommandLibraries } from "../host/libraries.ts";
import { fromDisk, type NoteSource } from "../host/note-source.ts";
import { addTo, NOTHING, type Totals } from "../report/checked.ts";
import { NoteReader, ownFault } from "./note-reader.ts";
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
}

/** Checks one file after the other and writes down the results. */
export class FileChecker {
  readonly #reader: NoteReader;
  readonly #write: WriteChecked;

  /** Paths are shown as seen from `folder`. */
  constructor(
    folder: string,
    form: ReportForm,
    libraries: CommandLibraries,
    source: NoteSource = fromDisk(libraries),
  ) {
    this.#reader = new NoteReader(folder, libraries, source);
    this.#write = writerFor(form, libraries);
  }

  note(path: string): FileOutcome {
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
