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
