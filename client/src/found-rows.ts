import { l10n, type QuickPickItem, QuickPickItemKind, Range, Uri, window, workspace } from "vscode";
import type {
  FindAnswer,
  FoundNote,
  SimilarAnswer,
  SimilarNote,
  WrongCondition,
} from "../../server/src/lsp/own-messages.ts";
import { joined } from "./words.ts";

type ProtocolRange = SimilarNote["range"];
type Listed = FoundNote | SimilarNote;

/** A line of a list to pick from, and what picking it does. */
export interface Row extends QuickPickItem {
  /** Opens this place. */
  readonly open?: { readonly uri: string; readonly range: ProtocolRange };
  /** Asks this instead. */
  readonly ask?: string;
  /** Keeps the answer in the view. */
  readonly keep?: true;
}

export const heading = (label: string): Row => ({ label, kind: QuickPickItemKind.Separator });

/** Stays in the list whatever is typed: the answer is filtered already. */
export const row = (row: Omit<Row, "alwaysShow">): Row => ({ ...row, alwaysShow: true });

const MOST_SAID = 3;

const TOP: ProtocolRange = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export const nameOf = ({ job, path }: Listed): string => job ?? path;

export const aboutNote = ({ subject, complaint, date }: Listed): string =>
  joined(subject ?? complaint ?? "", date ?? "");

export function foundRow(note: FoundNote): Row {
  const { uri, places, path, label } = note;
  const block = label === undefined ? "" : l10n.t("in the block {0}", label);
  const says = places.slice(0, MOST_SAID).map((place) => place.says);
  return row({
    label: nameOf(note),
    description: joined(aboutNote(note), block),
    detail: says.length > 0 ? says.join("  |  ") : path,
    open: { uri, range: places[0]?.range ?? TOP },
  });
}

export const alikeInWords = ({ because }: SimilarNote): string => l10n.t("Alike: {0}", because.join("; "));

export const causeInWords = ({ cause }: SimilarNote): string =>
  cause === undefined ? "" : l10n.t("Cause: {0}", cause);

export const similarRow = (note: SimilarNote): Row =>
  row({
    label: nameOf(note),
    description: aboutNote(note),
    detail: [alikeInWords(note), causeInWords(note)].filter((part) => part !== "").join("  |  "),
    open: { uri: note.uri, range: note.range },
  });

export function keepRow(count: number): Row {
  const label = count === 1 ? l10n.t("Keep this one in a view") : l10n.t("Keep these {0} in a view", count);
  return row({ label: `$(list-tree) ${label}`, keep: true });
}

/** The server marks what is written in a note as markdown does; a list shows no markdown. */
const quoted = (text: string): string => text.replace(/`([^`]*)`/g, "\u201c$1\u201d");

/** What is wrong with a condition, where, and a way to mend it by one key. */
export function wrongRows(question: string, { message, advice, from, to, instead }: WrongCondition): Row[] {
  const part = question.slice(from, to).trim();
  const where = part === "" ? l10n.t("at the end") : l10n.t("at {0}, character {1}", part, from + 1);
  return [
    row({ label: `$(info) ${quoted(message)}`, description: where, detail: quoted(advice) }),
    ...instead.map((meant) =>
      row({
        label: l10n.t("Write {0} there", meant),
        ask: question.slice(0, from) + meant + question.slice(to),
      }),
    ),
  ];
}

/** What has to be said beside the notes that were found. */
export function remarkRows(answer: FindAnswer | SimilarAnswer): Row[] {
  const said: Row[] = "leftOut" in answer ? answer.leftOut.map((label) => row({ label })) : [];
  const { unread, notes, total } = answer;
  if (total > notes.length)
    said.push(row({ label: l10n.t("{0} more are not listed. Ask more closely.", total - notes.length) }));
  if (unread.length > 0)
    said.push(
      row({
        label:
          unread.length === 1
            ? l10n.t("1 file could not be read")
            : l10n.t("{0} files could not be read", unread.length),
        detail: unread
          .slice(0, MOST_SAID)
          .map((uri) => workspace.asRelativePath(Uri.parse(uri)))
          .join(", "),
      }),
    );
  return said;
}

export const countInWords = (count: number, among: number): string =>
  l10n.t("{0} of {1} job notes", count, among);

/** Where the cursor goes. The line is not selected, so that a stray key does not write over it. */
export function cursorAt({ start }: ProtocolRange): Range {
  return new Range(start.line, start.character, start.line, start.character);
}

export async function openPlace({ uri, range }: NonNullable<Row["open"]>): Promise<void> {
  await window.showTextDocument(Uri.parse(uri), { selection: cursorAt(range) });
}
