import type { Analysis, TextEdit } from "../analysis/analysis.ts";
import { collectNames, type Definition, keyUnder, namesIn, resolve, type Scope } from "../analysis/scope.ts";
import { readName } from "../language/scanner.ts";
import type { Name } from "../language/syntax.ts";
import type { Note, Range } from "../note/note.ts";
import { lineAt } from "../text/line-index.ts";
import { type Mention, mentionAt, mentionsLike } from "./mentions.ts";

export type Renaming =
  | { readonly ok: true; readonly edits: readonly TextEdit[] }
  /** A sentence for the technician: why this name will not do. */
  | { readonly ok: false; readonly says: string };

const refuse = (says: string): Renaming => ({ ok: false, says });

/** The name under the cursor, when it can be renamed. Instruments are named in the shop file and stay. */
export function renameableAt(
  analysis: Analysis,
  offset: number,
): { readonly range: Range; readonly name: string } | undefined {
  const mention = mentionAt(analysis, offset);
  if (!mention || mention.kind === "instrument") return undefined;
  return { range: mention.range, name: analysis.note.text.slice(mention.range.from, mention.range.to) };
}

/**
 * Edits that give the thing under the cursor another name everywhere in the note. A name that would come to
 * mean something else, here or in any formula, is refused.
 */
export function rename(analysis: Analysis, offset: number, newName: string): Renaming {
  const mention = mentionAt(analysis, offset);
  if (!mention || mention.kind === "instrument") return refuse("There is no name here that can be changed.");
  const wanted = newName.trim().replace(/\s+/g, " ");
  return mention.kind === "place"
    ? renamePlace(analysis, mention, wanted)
    : renameReading(analysis, mention, wanted);
}

function renamePlace(analysis: Analysis, mention: Mention, wanted: string): Renaming {
  if (wanted === "" || /[[\]\n]/.test(wanted)) return refuse("A place is plain words, without brackets.");
  const key = wanted.toLowerCase();
  if (key !== mention.key && mentionsLike(analysis, { ...mention, key }).length > 0) {
    return refuse(
      `There is a place called “${wanted}” already, and the two could not be told apart any more.`,
    );
  }
  return {
    ok: true,
    edits: mentionsLike(analysis, mention).map(({ range }) => ({ range, text: wanted })),
  };
}

function renameReading(analysis: Analysis, mention: Mention, wanted: string): Renaming {
  const { note } = analysis;
  const scope = collectNames(note);
  const definition = scope.byKey.get(mention.key);
  const label = definition?.block.label ?? "";
  // Either the bare name or the whole one with its label may be typed.
  const bare =
    label !== "" && wanted.toLowerCase().startsWith(`${label.toLowerCase()} `)
      ? wanted.slice(label.length + 1)
      : wanted;
  const name = readName(bare, 0, true);
  if (!name || name.span.to !== bare.length) {
    return refuse(
      "A name starts with a letter and is words of letters and figures; `and`, `or`, `not` and `is` are taken.",
    );
  }
  const key = keyUnder(label, name.key);
  const mentions = mentionsLike(analysis, mention);
  if (key !== mention.key && scope.byKey.has(key)) {
    return refuse(`There is a reading called “${bare}” already.`);
  }
  const turned = definition && turnedName(note, scope, definition, key);
  if (turned !== undefined) {
    const line = lineAt(note.lines, turned) + 1;
    return refuse(`With the name “${bare}”, a name in line ${line} would come to mean another reading.`);
  }
  const edits = mentions.map(({ range }): TextEdit => {
    const written = note.text.slice(range.from, range.to);
    const whole = label !== "" && written.replace(/\s+/g, " ").toLowerCase() === mention.key;
    return { range, text: whole ? `${written.slice(0, label.length)} ${bare}` : bare };
  });
  return { ok: true, edits };
}

/** Offset of the first name in a formula that would mean another reading once `definition` has the new key. */
function turnedName(note: Note, scope: Scope, definition: Definition, key: string): number | undefined {
  const renamed = { ...definition, key };
  const byKey = new Map(
    [...scope.byKey].map(([k, d]) => (d === definition ? ([key, renamed] as const) : ([k, d] as const))),
  );
  const after: Scope = { ...scope, byKey };
  for (const { label, name, offset } of namesInFormulas(note)) {
    const before = resolve(scope, label, name);
    if (before === definition) {
      const written =
        name.key === definition.key ? key : key.slice(keyUnder(definition.block.label, "").length);
      if (resolve(after, label, { key: written, text: written }) !== renamed) return offset;
    } else if (resolve(after, label, name) !== before) return offset;
  }
  return undefined;
}

function* namesInFormulas(note: Note): Generator<{ label: string; name: Name; offset: number }> {
  for (const block of note.blocks) {
    if (block.kind !== "readings" && block.kind !== "limits") continue;
    for (const placed of block.lines) {
      const formula =
        placed.syntax.kind === "formula"
          ? placed.syntax.formula
          : placed.syntax.kind === "limit"
            ? placed.syntax.condition
            : undefined;
      for (const name of formula ? namesIn(formula) : []) {
        yield { label: block.label, name, offset: placed.offset + name.span.from };
      }
    }
  }
}
