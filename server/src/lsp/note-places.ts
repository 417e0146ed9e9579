import type { Range } from "vscode-languageserver";
import type { LinePlace, Place } from "../base/places.ts";
import type { BaseLibrary } from "../host/libraries.ts";
import type { ClientNotes } from "./client-notes.ts";
import type { Files } from "./files.ts";
import type { FoundPlace } from "./own-messages.ts";

/** The protocol draws a column past the end of its line back to the end. */
const LINE_END = 2 ** 31 - 1;

interface Texts {
  readonly files: Pick<Files, "reads" | "text">;
  readonly notes: ClientNotes | undefined;
  readonly openText: (uri: string) => string | undefined;
}

/** Finds where in a note something stands, reading its text only where the record does not know the line. */
export class NotePlaces {
  constructor(
    private readonly texts: Texts,
    private readonly library: () => BaseLibrary,
  ) {}

  async find(uri: string, places: readonly Place[]): Promise<FoundPlace[]> {
    const open = this.texts.openText(uri);
    const text = open ?? (places.some(({ kind }) => kind !== "line") ? await this.text(uri) : undefined);
    const lines = text?.split(/\r\n|[\n\r]/);
    const toPlace = ({ line, says }: LinePlace): FoundPlace => ({
      says,
      range: rangeOf(line - 1, lines?.[line - 1]),
    });
    return this.library()
      .findLines(text ?? "", places)
      .map(toPlace);
  }

  /** The text of a note as it stands in the editor, else in its file. */
  async text(uri: string): Promise<string | undefined> {
    const open = this.texts.openText(uri);
    if (open !== undefined) return open;
    return this.texts.files.reads(uri) ? this.texts.files.text(uri) : this.texts.notes?.text(uri);
  }
}

function rangeOf(line: number, text: string | undefined): Range {
  const from = text === undefined ? 0 : text.length - text.trimStart().length;
  const to = text === undefined ? LINE_END : text.trimEnd().length;
  return { start: { line, character: from }, end: { line, character: Math.max(from, to) } };
}
