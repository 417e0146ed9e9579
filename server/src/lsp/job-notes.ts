import type { FileEvent, Range } from "vscode-languageserver";
import type { Libraries } from "../host/libraries.ts";
import { jobKey } from "../ide/comeback.ts";
import type { FrontMatter, FrontMatterFields } from "../note/front-matter.ts";
import { readFrontMatter } from "../note/read-front-matter.ts";
import { indexLines, type LineIndex } from "../text/line-index.ts";
import { addressKey, folderOf } from "./addresses.ts";
import type { ClientNotes } from "./client-notes.ts";
import type { Files } from "./files.ts";
import type { Session } from "./session.ts";
import { toRange } from "./to-protocol.ts";
import type { Turns } from "./turns.ts";

/** A note as far as its front matter tells. */
export interface JobNote {
  readonly uri: string;
  readonly fields: FrontMatterFields;
  /** Where the job number stands. */
  readonly place: Range;
}

export interface JobNotesSurroundings {
  readonly session: Pick<Session, "checked">;
  readonly libraries: Pick<Libraries, "yaml">;
  readonly files: Pick<Files, "markdownIn" | "reads" | "stamp" | "text">;
  readonly notes: ClientNotes | undefined;
  readonly open: () => readonly string[];
  readonly folders: () => readonly string[];
  /** Whether the client tells of files that change. */
  readonly watches: boolean;
  readonly turns: Pick<Turns, "give" | "waitFor">;
}

interface Kept {
  readonly stamp: string;
  readonly note: JobNote | undefined;
}

/**
 * Finds notes by their job number. Only front matter is read, so that it is quick among thousands of notes;
 * what a file's front matter says is kept until the file changes.
 */
export class JobNotes {
  readonly #kept = new Map<string, Kept>();
  /** Tells whether a file may have changed while its text was on the way. */
  #changes = 0;

  constructor(private readonly around: JobNotesSurroundings) {}

  filesChanged(changes: readonly FileEvent[]): void {
    this.#changes++;
    for (const { uri } of changes) this.#kept.delete(addressKey(uri));
  }

  /**
   * Notes of a job, the earliest first; undefined when it is called off.
   *
   * @param beside a note that is left out; where no folder is open, the notes of its folder are searched
   */
  async find(job: string, beside: string, off: () => boolean): Promise<readonly JobNote[] | undefined> {
    const { folders, open, files, notes, turns } = this.around;
    const wanted = jobKey(job);
    const itself = addressKey(beside);
    const within = folders().length > 0 ? folders() : [folderOf(beside)];
    const uris = new Map<string, string>();
    const listed =
      notes && within.some((uri) => !files.reads(uri)) ? await turns.waitFor(notes.list(), off) : [];
    if (!listed) return undefined;
    // Of several spellings of one address that of the open text counts, under which the editor knows it.
    for (const uri of [...files.markdownIn(within), ...listed, ...open()]) uris.set(addressKey(uri), uri);
    uris.delete(itself);
    const found: JobNote[] = [];
    for (const [key, uri] of uris) {
      if (off()) return undefined;
      const note = await this.#note(key, uri, off);
      if (note?.fields.job !== undefined && jobKey(note.fields.job) === wanted) found.push(note);
      await turns.give();
    }
    return found.sort(byDay);
  }

  async #note(key: string, uri: string, off: () => boolean): Promise<JobNote | undefined> {
    const { session, files, notes, watches, turns } = this.around;
    const open = session.checked(uri)?.analysis.note;
    if (open) return jobNote(uri, open.frontMatter, open.lines);
    const onDisk = files.reads(uri);
    const stamp = onDisk ? files.stamp(uri) : "";
    const known = this.#kept.get(key);
    if (known?.stamp === stamp) return known.note;
    const changes = this.#changes;
    const text = onDisk ? files.text(uri) : notes && (await turns.waitFor(notes.text(uri), off));
    if (off()) return undefined;
    const note = text === undefined ? undefined : this.#read(uri, text);
    // Without a stamp only the client's word tells that a file has changed.
    if (onDisk || (watches && changes === this.#changes)) this.#kept.set(key, { stamp, note });
    return note;
  }

  #read(uri: string, text: string): JobNote | undefined {
    const frontMatter = readFrontMatter(text, this.around.libraries.yaml);
    // The job number stands at the top, so the lines below the front matter need not be counted.
    return jobNote(uri, frontMatter, indexLines(text.slice(0, frontMatter.range.to)));
  }
}

function jobNote(uri: string, { fields, at }: FrontMatter, lines: LineIndex): JobNote | undefined {
  const range = at.get("job");
  return fields.job === undefined || !range ? undefined : { uri, fields, place: toRange(lines, range) };
}

/** The earliest first; notes that name no day come last, in the order of their paths. */
function byDay(a: JobNote, b: JobNote): number {
  const [dayA, dayB] = [a.fields.date ?? "~", b.fields.date ?? "~"];
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  return a.uri < b.uri ? -1 : 1;
}
