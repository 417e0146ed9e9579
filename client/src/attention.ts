import {
  type Disposable,
  EventEmitter,
  l10n,
  Range,
  ThemeIcon,
  type TreeDataProvider,
  TreeItem,
  TreeItemCollapsibleState,
  type Uri,
  window,
  workspace,
} from "vscode";
import type { Look, Looked } from "../../server/src/lsp/own-messages.ts";
import { isJobNoteText } from "./job-note.ts";
import type { Server } from "./server.ts";
import { countsInWords, joined, severityWord, stepsInWords } from "./words.ts";

const NOTES = "**/*.{md,markdown}";
const SHOPS = "**/shop.yaml";
const LEFT_OUT = "**/{node_modules,.*}/**";
/** A list of more would help nobody; the command line is for whole archives. */
const MOST_NOTES = 5000;
/** Notes that are read side by side: enough to keep a slow network busy. */
const AT_ONCE = 16;
const CALM_MS = 500;

interface NoteRow {
  readonly kind: "note";
  readonly uri: Uri;
  readonly look: Look;
}
interface FindingRow {
  readonly kind: "finding";
  readonly note: NoteRow;
  readonly finding: Looked;
}
type Row = NoteRow | FindingRow;

/** The view of notes that need attention. It reads no note before somebody opens it. */
export function attentionView(ready: () => Promise<Server>): Disposable {
  const rows = new AttentionRows(ready);
  const view = window.createTreeView("witness-mark.attention", {
    treeDataProvider: rows,
    showCollapseAll: true,
  });
  const watcher = workspace.createFileSystemWatcher(NOTES);
  const shopWatcher = workspace.createFileSystemWatcher(SHOPS);
  const timers = new Map<string, ReturnType<typeof setTimeout>>();
  const soon = (uri: Uri): void => {
    const key = uri.toString();
    clearTimeout(timers.get(key));
    timers.set(
      key,
      setTimeout(() => {
        timers.delete(key);
        void rows.lookAgain(uri);
      }, CALM_MS),
    );
  };
  // Every note under a shop file may have other findings after it has changed.
  const startOverSoon = (): void => {
    clearTimeout(timers.get(SHOPS));
    timers.set(
      SHOPS,
      setTimeout(() => rows.startOver(), CALM_MS),
    );
  };
  const subscriptions: Disposable[] = [
    view,
    shopWatcher,
    shopWatcher.onDidChange(startOverSoon),
    shopWatcher.onDidCreate(startOverSoon),
    shopWatcher.onDidDelete(startOverSoon),
    watcher,
    rows,
    watcher.onDidChange(soon),
    watcher.onDidCreate(soon),
    watcher.onDidDelete(soon),
    workspace.onDidChangeTextDocument(({ document }) => {
      if (document.languageId === "markdown") soon(document.uri);
    }),
    workspace.onDidChangeWorkspaceFolders(() => rows.startOver()),
    workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration("witness-mark.listOpenJobs")) rows.redraw();
    }),
  ];
  return {
    dispose() {
      for (const timer of timers.values()) clearTimeout(timer);
      for (const subscription of subscriptions) subscription.dispose();
    },
  };
}

class AttentionRows implements TreeDataProvider<Row>, Disposable {
  readonly #changed = new EventEmitter<void>();
  readonly onDidChangeTreeData = this.#changed.event;
  #notes: Promise<Map<string, NoteRow>> | undefined;

  constructor(private readonly ready: () => Promise<Server>) {}

  dispose(): void {
    this.#changed.dispose();
  }

  startOver(): void {
    this.#notes = undefined;
    this.redraw();
  }

  redraw(): void {
    this.#changed.fire();
  }

  async lookAgain(uri: Uri): Promise<void> {
    // Nobody has opened the view yet.
    if (!this.#notes) return;
    const notes = await this.#notes;
    const before = notes.get(uri.toString());
    const now = await lookAt(await this.ready(), uri);
    if (now) notes.set(uri.toString(), now);
    else notes.delete(uri.toString());
    if (JSON.stringify(before?.look) !== JSON.stringify(now?.look)) this.redraw();
  }

  async getChildren(row?: Row): Promise<Row[]> {
    if (row?.kind === "finding") return [];
    if (row) return openFindings(row.look).map((finding) => ({ kind: "finding", note: row, finding }));
    this.#notes ??= this.#readAll();
    const open = workspace.getConfiguration("witness-mark").get("listOpenJobs") === true;
    const wanted = ({ look }: NoteRow): boolean =>
      countsInWords(look) !== "" || (open && look.status !== "done" && look.stepsToDo > 0);
    return [...(await this.#notes).values()].filter(wanted).sort(byUrgency);
  }

  async #readAll(): Promise<Map<string, NoteRow>> {
    const notes = new Map<string, NoteRow>();
    const files = await workspace.findFiles(NOTES, LEFT_OUT, MOST_NOTES);
    if (files.length === 0) return notes;
    const server = await this.ready();
    for (let from = 0; from < files.length; from += AT_ONCE) {
      const looked = await Promise.all(files.slice(from, from + AT_ONCE).map((uri) => lookAt(server, uri)));
      for (const row of looked) if (row) notes.set(row.uri.toString(), row);
    }
    return notes;
  }

  getTreeItem(row: Row): TreeItem {
    return row.kind === "note" ? noteItem(row) : findingItem(row);
  }
}

async function lookAt(server: Server, uri: Uri): Promise<NoteRow | undefined> {
  try {
    const open = workspace.textDocuments.find((document) => document.uri.toString() === uri.toString());
    const text = open ? undefined : new TextDecoder().decode(await workspace.fs.readFile(uri));
    if (text !== undefined && !isJobNoteText(text)) return undefined;
    const look = await server.look(uri, text);
    return look && { kind: "note", uri, look };
  } catch {
    // Gone meanwhile, or not readable: then it is no note that this list could help with.
    return undefined;
  }
}

const openFindings = ({ findings }: Look): readonly Looked[] =>
  findings.filter(({ severity, accepted }) => severity !== "info" && accepted === undefined);

const errors = ({ look }: NoteRow): number =>
  openFindings(look).filter(({ severity }) => severity === "error").length;

const byUrgency = (a: NoteRow, b: NoteRow): number =>
  errors(b) - errors(a) || (a.uri.path < b.uri.path ? -1 : 1);

function noteItem({ uri, look }: NoteRow): TreeItem {
  const path = workspace.asRelativePath(uri);
  const item = new TreeItem(
    look.subject ? `${look.job ?? path}: ${look.subject}` : (look.job ?? path),
    openFindings(look).length > 0 ? TreeItemCollapsibleState.Collapsed : TreeItemCollapsibleState.None,
  );
  const says = joined(countsInWords(look), stepsInWords(look));
  item.id = uri.toString();
  item.description = says;
  // In a narrow side bar the description is cut off.
  item.tooltip = `${path}\n${says}`;
  item.iconPath = new ThemeIcon("note");
  item.command = { command: "vscode.open", title: l10n.t("Open the note"), arguments: [uri] };
  item.accessibilityInformation = { label: l10n.t("Job note {0}, {1}", String(item.label), says) };
  return item;
}

function findingItem({ note, finding }: FindingRow): TreeItem {
  const { message, advice, rule, range } = finding;
  const word = severityWord(finding);
  const item = new TreeItem(`${word}: ${message}`);
  const line = range.start.line + 1;
  item.description = l10n.t("line {0}", line);
  item.tooltip = `${message} ${advice}\n${rule}`;
  item.command = {
    command: "vscode.open",
    title: l10n.t("Go to the finding"),
    arguments: [
      note.uri,
      { selection: new Range(range.start.line, range.start.character, range.end.line, range.end.character) },
    ],
  };
  item.accessibilityInformation = { label: l10n.t("{0} in line {1}: {2}", word, line, message) };
  return item;
}
