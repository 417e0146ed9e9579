import {
  commands,
  type Disposable,
  EventEmitter,
  l10n,
  ThemeIcon,
  type TreeDataProvider,
  TreeItem,
  TreeItemCollapsibleState,
  type TreeView,
  Uri,
  window,
} from "vscode";
import type { FoundNote, SimilarNote } from "../../server/src/lsp/own-messages.ts";
import { aboutNote, alikeInWords, causeInWords, cursorAt, nameOf } from "./found-rows.ts";
import type { Asking } from "./server.ts";
import { joined } from "./words.ts";

/** An answer that stays until the next one. */
export interface Kept {
  /** What was asked, and how much was found. */
  readonly says: string;
  readonly rows: readonly (FoundNote | SimilarNote)[];
  /** How many were found beyond these. */
  readonly more: number;
  /** Undefined when there is no answer any more. */
  askAgain(asking: Asking): Promise<Kept | undefined>;
}

interface PlaceRow {
  readonly uri: string;
  readonly says: string;
  readonly range: SimilarNote["range"];
}
interface NoteRow {
  readonly note: FoundNote | SimilarNote;
  readonly places: readonly PlaceRow[];
}
type Row = NoteRow | PlaceRow;

const HAS_FOUND = "witness-mark.hasFound";
/** Up to so many notes are shown with their places at once. */
const OPENED_UP_TO = 10;

/** The view "Found in the notes": an answer that was kept, to be worked through note by note. */
export class FoundView implements TreeDataProvider<Row>, Disposable {
  static readonly id = "witness-mark.found";
  readonly #changed = new EventEmitter<void>();
  readonly onDidChangeTreeData = this.#changed.event;
  readonly #view: TreeView<Row>;
  #kept: Kept | undefined;
  #rows: readonly NoteRow[] = [];

  constructor() {
    this.#view = window.createTreeView<Row>(FoundView.id, { treeDataProvider: this, showCollapseAll: true });
  }

  dispose(): void {
    this.#view.dispose();
    this.#changed.dispose();
  }

  get kept(): Kept | undefined {
    return this.#kept;
  }

  /** Puts an answer in the place of the last one, and the focus on it. */
  async show(kept: Kept): Promise<void> {
    this.#kept = kept;
    this.#rows = kept.rows.map(noteRow);
    const more = kept.more > 0 ? l10n.t("{0} more are not listed. Ask more closely.", kept.more) : "";
    this.#view.message = joined(kept.says, more);
    this.#changed.fire();
    await commands.executeCommand("setContext", HAS_FOUND, true);
    await commands.executeCommand(`${FoundView.id}.focus`);
    const [first] = this.#rows;
    // A view that was closed meanwhile has nothing to put the focus on.
    if (first)
      await this.#view.reveal(first, { focus: true, select: false }).then(undefined, () => undefined);
  }

  async clear(): Promise<void> {
    this.#kept = undefined;
    this.#rows = [];
    this.#changed.fire();
    await commands.executeCommand("setContext", HAS_FOUND, false);
  }

  getChildren(row?: Row): Row[] {
    if (!row) return [...this.#rows];
    return "places" in row ? [...row.places] : [];
  }

  getParent(row: Row): Row | undefined {
    return "places" in row ? undefined : this.#rows.find(({ places }) => places.includes(row));
  }

  getTreeItem(row: Row): TreeItem {
    return "places" in row ? noteItem(row, this.#rows.length <= OPENED_UP_TO) : placeItem(row);
  }
}

function noteRow(note: FoundNote | SimilarNote): NoteRow {
  const { uri } = note;
  if ("places" in note) return { note, places: note.places.map((place) => ({ uri, ...place })) };
  const said = [causeInWords(note), alikeInWords(note)].filter((says) => says !== "");
  return { note, places: said.map((says) => ({ uri, says, range: note.range })) };
}

function noteItem({ note, places }: NoteRow, opened: boolean): TreeItem {
  const about = aboutNote(note);
  const { Collapsed, Expanded, None } = TreeItemCollapsibleState;
  const item = new TreeItem(nameOf(note), places.length === 0 ? None : opened ? Expanded : Collapsed);
  item.description = about;
  item.tooltip = joined(note.path, note.complaint ?? "");
  item.iconPath = new ThemeIcon("note");
  item.command = openCommand(note.uri, places[0]?.range);
  item.accessibilityInformation = { label: l10n.t("Job note {0}, {1}", nameOf(note), about) };
  return item;
}

function placeItem({ uri, says, range }: PlaceRow): TreeItem {
  const item = new TreeItem(says);
  const line = range.start.line + 1;
  item.description = l10n.t("line {0}", line);
  item.tooltip = says;
  item.command = openCommand(uri, range);
  item.accessibilityInformation = { label: l10n.t("{0}, line {1}", says, line) };
  return item;
}

const openCommand = (
  uri: string,
  range: PlaceRow["range"] | undefined,
): NonNullable<TreeItem["command"]> => ({
  command: "vscode.open",
  title: l10n.t("Open the note"),
  arguments: [Uri.parse(uri), range ? { selection: cursorAt(range) } : {}],
});
