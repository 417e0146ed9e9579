import type { CancellationToken, Connection, FileEvent } from "vscode-languageserver";
import type { FoundNote as Found } from "../base/ask.ts";
import type { Asked } from "../base/condition.ts";
import type { Place } from "../base/places.ts";
import type { NoteRecord } from "../base/record.ts";
import type { BaseLibrary } from "../host/libraries.ts";
import { addressKey } from "./addresses.ts";
import { CALLED_OFF } from "./called-off.ts";
import { NotePlaces } from "./note-places.ts";
import { type IndexSurroundings, NotesIndex } from "./notes-index.ts";
import type {
  Example,
  FindAnswer,
  FindParams,
  FoundNote,
  SimilarAnswer,
  SimilarNote,
  SimilarParams,
} from "./own-messages.ts";
import { readingProgress } from "./reading-progress.ts";
import type { Turns } from "./turns.ts";

const MOST = 200;
const MOST_SIMILAR = 10;
/** Places that are told of one note. */
const MOST_PLACES = 8;

export interface FindingSurroundings extends IndexSurroundings {
  readonly library: () => BaseLibrary;
  readonly connection: Connection;
  readonly turns: Turns;
  /** Whether the client shows progress that the server begins. */
  readonly showsProgress: boolean;
  /** The text of a note that is open. */
  readonly openText: (uri: string) => string | undefined;
}

type CalledOff = typeof CALLED_OFF;

/** Answers what is asked of all notes together. Nothing is loaded or read before the first question. */
export class Finding {
  #index: NotesIndex | undefined;
  readonly #places: NotePlaces;
  /** Ends when the question before does: two at once would change the base under each other. */
  #before: Promise<unknown> = Promise.resolve();

  constructor(private readonly around: FindingSurroundings) {
    this.#places = new NotePlaces(around, () => this.#library());
  }

  filesChanged(changes: readonly FileEvent[]): void {
    this.#index?.filesChanged(changes);
  }

  find(params: FindParams, token: CancellationToken): Promise<FindAnswer | CalledOff> {
    return this.#inTurn(params, token, (index, off) => this.#find(index, params, off));
  }

  similar(params: SimilarParams, token: CancellationToken): Promise<SimilarAnswer | CalledOff | null> {
    return this.#inTurn(params, token, (index, off) => this.#similar(index, params, off));
  }

  #library(): BaseLibrary {
    return this.around.library();
  }

  #inTurn<T>(
    { again, workDoneToken }: FindParams | SimilarParams,
    token: CancellationToken,
    work: (index: NotesIndex, off: () => boolean) => Promise<T | undefined>,
  ): Promise<T | CalledOff> {
    const answer = async (): Promise<T | CalledOff> => {
      if (token.isCancellationRequested) return CALLED_OFF;
      this.#index ??= new NotesIndex(this.#library(), this.around);
      const { connection, showsProgress } = this.around;
      const progress = readingProgress(connection, workDoneToken, showsProgress);
      const off = (): boolean => token.isCancellationRequested || progress.stopped();
      try {
        await this.#index.update(off, again === true, progress.told);
      } finally {
        progress.done();
      }
      const answered = off() ? undefined : await work(this.#index, off);
      return answered === undefined ? CALLED_OFF : answered;
    };
    const mine = this.#before.then(answer);
    this.#before = mine.catch(() => undefined);
    return mine;
  }

  async #find(
    index: NotesIndex,
    { question: given, most = MOST }: FindParams,
    off: () => boolean,
  ): Promise<FindAnswer | undefined> {
    const { readQuestion, readCondition, findByCondition, findByWords } = this.#library();
    const { live } = index;
    const among = live.base.notes.length;
    const nothing = { notes: [], total: 0, among, unread: index.unread, leftOut: [], examples: [] };
    const question = readQuestion(typeof given === "string" ? given : "");
    if (question.text.trim() === "")
      return { ...nothing, readAs: "nothing", examples: this.#examples(index) };
    let condition: Asked | undefined;
    // Where there are no notes, no name could be known.
    if (question.kind === "condition" && among > 0) {
      const reading = readCondition(question.text, live.base);
      if (!reading.ok) {
        const { message, advice, at, instead = [] } = reading;
        return { ...nothing, readAs: "condition", wrong: { message, advice, ...at, instead } };
      }
      condition = reading.condition;
    }
    const work =
      condition === undefined ? findByWords(live, question.text) : findByCondition(live, condition);
    const found = await this.around.turns.run(work, off);
    if (found === undefined) return undefined;
    const notes: FoundNote[] = [];
    for (const one of found.slice(0, most)) {
      const note = await this.#found(index, one, condition);
      if (off()) return undefined;
      if (note) notes.push(note);
      await this.around.turns.give();
    }
    const leftOut = [...(condition?.kept ?? [])].map(
      ([says, times]) => `Left out ${times} ${times === 1 ? "time" : "times"}, as ${says}.`,
    );
    return { ...nothing, readAs: question.kind, notes, total: found.length, leftOut };
  }

  #examples({ live }: NotesIndex): Example[] {
    const { examplesFrom, QUESTIONS, DURATION_QUESTION } = this.#library();
    return [
      ...examplesFrom(live.base.notes).map((question) => ({ question, says: "" })),
      ...QUESTIONS.map(({ form, says }) => ({ question: form.split(" or ")[0] ?? form, says })),
      { question: `${DURATION_QUESTION.form} > 2 h`, says: DURATION_QUESTION.says },
    ];
  }

  async #found(
    { live, uriOf }: NotesIndex,
    found: Found,
    condition: Asked | undefined,
  ): Promise<FoundNote | undefined> {
    const note = live.base.notes[found.number];
    const key = live.keyOf(found.number);
    if (note === undefined || key === undefined) return undefined;
    const uri = uriOf(key);
    const places: readonly Place[] = condition
      ? this.#library().placesOf(condition, note, found.number, found.label)
      : [
          found.field === undefined
            ? { kind: "words", terms: found.terms ?? [] }
            : { kind: "field", key: found.field },
        ];
    return {
      ...inList(uri, note),
      ...(found.label === "" ? {} : { label: found.label }),
      places: (await this.#places.find(uri, places)).slice(0, MOST_PLACES),
    };
  }

  async #similar(
    index: NotesIndex,
    { uri, most = MOST_SIMILAR }: SimilarParams,
    off: () => boolean,
  ): Promise<SimilarAnswer | null | undefined> {
    const { live } = index;
    const asked = live.note(addressKey(uri)) ?? (await this.#recordOf(uri));
    if (asked === undefined) return null;
    const taken = await this.around.turns.run(live.takeUpWords(), off);
    if (taken === undefined && off()) return undefined;
    const work = this.#library().rankSimilar(asked, live.base, live.words, most);
    const found = await this.around.turns.run(work, off);
    if (found === undefined) return undefined;
    const notes: SimilarNote[] = [];
    for (const { note: number, likeness, because } of found) {
      const note = live.base.notes[number];
      const key = live.keyOf(number);
      if (note === undefined || key === undefined) continue;
      const at = index.uriOf(key);
      const keys = ["cause", "complaint", "subject", "job"].filter(
        (field) => note.fields[field] !== undefined,
      );
      const [place] = await this.#places.find(
        at,
        keys.slice(0, 1).map((field) => ({ kind: "field", key: field })),
      );
      if (off()) return undefined;
      notes.push({
        ...inList(at, note),
        ...textField(note, "cause"),
        likeness: Number(likeness.toFixed(3)),
        because,
        range: place?.range ?? TOP,
      });
    }
    const { unread } = index;
    return { notes, total: notes.length, among: live.base.notes.length, unread };
  }

  /** The record of a note that lies in no open folder. */
  async #recordOf(uri: string): Promise<NoteRecord | undefined> {
    const text = await this.#places.text(uri);
    const checked = text === undefined ? undefined : this.around.session.read(uri, text);
    return checked && this.#library().makeRecord(uri, checked.analysis, checked.shop);
  }
}

const TOP = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

const textField = <K extends string>(note: NoteRecord, key: K): { readonly [P in K]?: string } => {
  const text = [note.fields[key] ?? ""].flat().join("; ");
  const field: { [P in K]?: string } = {};
  if (text !== "") field[key] = text;
  return field;
};

const inList = (uri: string, note: NoteRecord) => ({
  uri,
  path: note.path,
  ...textField(note, "job"),
  ...(note.day === undefined ? {} : { date: note.day }),
  ...textField(note, "subject"),
  ...textField(note, "complaint"),
});
