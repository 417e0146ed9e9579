import type { Range } from "vscode-languageserver-types";

/**
 * What the editor's extension asks beyond the protocol. Other editors do without: each of these only spares
 * the extension from knowing what a note is.
 */
export const OWN = {
  /** Procedures that a new note may go by: those built in, and the shop's own. */
  procedures: "witness-mark/procedures",
  /** The text of a new note, as a snippet. */
  newNote: "witness-mark/newNote",
  /** One note at a glance; with a text, of a note that is not open. Null for what is no job note. */
  look: "witness-mark/look",
  /** The shop file for the notes of a folder, from a client that has to look for the server. */
  shop: "witness-mark/shop",
  /** Notes of the open folders that meet a condition or hold words. Null when it failed by a fault of ours. */
  find: "witness-mark/find",
  /** Notes of the open folders that are like one note. Null for what is no job note. */
  similar: "witness-mark/similar",
  /** Asked of the client: addresses of the markdown files that the server cannot read by itself. */
  notes: "witness-mark/notes",
  /** Asked of the client: the text of one of these; null where there is none. */
  noteText: "witness-mark/noteText",
} as const;

/** `near` is a note or a folder; its shop file may bring procedures. */
export interface ProceduresParams {
  readonly near?: string;
}
export interface OfferedProcedure {
  readonly id: string;
  readonly title: string;
  readonly covers: string;
}

export interface NewNoteParams {
  readonly near?: string;
  readonly procedure: string;
  readonly job: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
}

export interface LookParams {
  readonly uri: string;
  readonly text?: string;
}
export interface Look {
  readonly job?: string;
  readonly subject?: string;
  readonly status?: "open" | "done";
  readonly stepsToDo: number;
  readonly findings: readonly Looked[];
}
export interface Looked {
  readonly rule: string;
  readonly severity: "error" | "warning" | "info";
  readonly message: string;
  readonly advice: string;
  readonly range: Range;
  /** Why the note accepts it. */
  readonly accepted?: string;
}

export interface ShopParams {
  /** The folder of the notes, ending in a slash. */
  readonly folder: string;
  readonly shop: { readonly uri: string; readonly text: string } | null;
}

/** The notes are read at the first question; `workDoneToken` is told how far that is. */
interface AskParams {
  /** How many notes are wanted at most. */
  readonly most?: number;
  /** Looks at every file again, also where no change was told. */
  readonly again?: boolean;
  readonly workDoneToken?: number | string;
}
export interface FindParams extends AskParams {
  /** As somebody types it: a condition or words. Nothing asks for examples. */
  readonly question: string;
}
export interface SimilarParams extends AskParams {
  readonly uri: string;
}

/** What was asked about, and how many there are beside those that are listed. */
interface Answered<N> {
  readonly notes: readonly N[];
  readonly total: number;
  /** Notes that were looked at. */
  readonly among: number;
  /** Addresses of files that could not be read. */
  readonly unread: readonly string[];
}
export interface FindAnswer extends Answered<FoundNote> {
  readonly readAs: "condition" | "words" | "nothing";
  /** Why a condition cannot be asked. */
  readonly wrong?: WrongCondition;
  /** What kept values from being compared, such as units of different kinds. */
  readonly leftOut: readonly string[];
  /** Ways to ask, for an empty question. */
  readonly examples: readonly Example[];
}
export type SimilarAnswer = Answered<SimilarNote>;

export interface WrongCondition {
  readonly message: string;
  readonly advice: string;
  /** UTF-16 units from the start of the question. */
  readonly from: number;
  readonly to: number;
  /** What was likely meant in that place. */
  readonly instead: readonly string[];
}
export interface Example {
  readonly question: string;
  /** Empty for a condition taken from the notes. */
  readonly says: string;
}

/** What tells one note from another. */
interface NoteInList {
  readonly uri: string;
  /** From the open folder that it lies in. */
  readonly path: string;
  readonly job?: string;
  /** `YYYY-MM-DD`. */
  readonly date?: string;
  readonly subject?: string;
  readonly complaint?: string;
}
export interface FoundNote extends NoteInList {
  /** Label of the block for which it meets the condition. */
  readonly label?: string;
  /** Where it stands, the best place first. */
  readonly places: readonly FoundPlace[];
}
export interface FoundPlace {
  readonly says: string;
  readonly range: Range;
}
export interface SimilarNote extends NoteInList {
  readonly cause?: string;
  /** From 0 to 1. */
  readonly likeness: number;
  /** What the two have in common, the weightiest first. */
  readonly because: readonly string[];
  /** The line with the cause, else the complaint. */
  readonly range: Range;
}

export interface NoteTextParams {
  readonly uri: string;
}

/** Settings of the extension that change what the server answers. */
export interface Settings {
  /** Hints with derived values. */
  readonly hints: boolean;
  /** Findings that only inform. */
  readonly information: boolean;
}

export const DEFAULTS: Settings = { hints: true, information: true };

/** Settings as a client sends them; what is missing or of the wrong form keeps its default. */
export function settingsFrom(given: unknown): Settings {
  const of = (key: keyof Settings): boolean => {
    const value = isRecord(given) ? given[key] : undefined;
    return typeof value === "boolean" ? value : DEFAULTS[key];
  };
  return { hints: of("hints"), information: of("information") };
}

export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
