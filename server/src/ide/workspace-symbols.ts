import { collectNames } from "../analysis/scope.ts";
import type { Note, Range } from "../note/note.ts";
import type { OutlineEntry } from "./document-symbols.ts";

/** Something that a person may look for by name in all the notes of a folder. */
export interface NoteSymbol {
  readonly kind: OutlineEntry["kind"];
  readonly name: string;
  /** What it stands in: the job, for a reading. */
  readonly within: string;
  readonly range: Range;
}

/** The job itself, by number and subject, and every reading and column that the note defines. */
export function symbolsOf(note: Note): readonly NoteSymbol[] {
  const { fields, at, range } = note.frontMatter;
  const job = [fields.job, fields.subject ?? fields.title].filter((part) => part !== undefined).join(" ");
  const symbols: NoteSymbol[] = [];
  if (job !== "") symbols.push({ kind: "heading", name: job, within: "", range: at.get("job") ?? range });
  for (const { name, body, nameSpan } of collectNames(note).all) {
    const kind = body.kind === "column" ? "column" : body.syntax.kind === "formula" ? "derived" : "measured";
    const { offset } = body.placed;
    symbols.push({
      kind,
      name,
      within: job,
      range: { from: offset + nameSpan.from, to: offset + nameSpan.to },
    });
  }
  return symbols;
}

/** Whether the letters of a query stand in a name in their order, as editors match what somebody half types. */
export function matches(query: string, name: string): boolean {
  const letters = name.toLowerCase();
  let from = 0;
  for (const letter of query.toLowerCase().replace(/\s+/g, "")) {
    const found = letters.indexOf(letter, from);
    if (found < 0) return false;
    from = found + letter.length;
  }
  return true;
}
