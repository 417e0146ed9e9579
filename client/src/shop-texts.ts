import { type Disposable, EventEmitter, FileType, Uri, workspace } from "vscode";
import type { Server } from "./server.ts";

const SHOP_FILE = "shop.yaml";
/** What is drawn from a shop file waits for a pause in the typing. */
const CALM_MS = 300;

export interface ShopText {
  readonly uri: Uri;
  readonly text: string;
}

/**
 * Shop files of notes that the checker cannot reach by itself: on a virtual file system, or in a browser.
 * They are read through the editor, by the checker's own rule: the nearest `shop.yaml` in the note's folder or
 * above it, and no further than a folder that holds `.git`.
 */
export class ShopTexts implements Disposable {
  readonly #known = new Map<string, Promise<ShopText | undefined>>();
  readonly #texts = new Map<string, ShopText | undefined>();
  readonly #changed = new EventEmitter<void>();
  readonly #watcher = workspace.createFileSystemWatcher(`**/${SHOP_FILE}`);
  readonly #subscriptions: Disposable[];
  /** Folders that the server was told about since it asked for notes that are not open. */
  readonly #asked = new Map<string, Uri>();
  #server: Server | undefined;
  #calm: ReturnType<typeof setTimeout> | undefined;

  /** Fires when a shop file has arrived or has changed. */
  readonly onDidChange = this.#changed.event;

  constructor() {
    const again = (): void => this.#forget();
    this.#subscriptions = [
      this.#changed,
      this.#watcher,
      this.#watcher.onDidChange(again),
      this.#watcher.onDidCreate(again),
      this.#watcher.onDidDelete(again),
      workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length === 0 || !isShopFile(document.uri)) return;
        clearTimeout(this.#calm);
        this.#calm = setTimeout(again, CALM_MS);
      }),
      workspace.onDidOpenTextDocument(({ uri, languageId }) => {
        if (languageId === "markdown") this.#tellFor(uri);
      }),
    ];
  }

  dispose(): void {
    clearTimeout(this.#calm);
    for (const subscription of this.#subscriptions) subscription.dispose();
  }

  /** Shop files as they stand in the editor, saved or not. */
  open(): { readonly uri: string; readonly version: number; readonly text: string }[] {
    return workspace.textDocuments
      .filter(({ uri }) => isShopFile(uri))
      .map((document) => ({
        uri: document.uri.toString(),
        version: document.version,
        text: document.getText(),
      }));
  }

  /** From now on the server is told of the shop files that it cannot read. */
  tell(server: Server): void {
    this.#server = server;
    this.#tellForOpenNotes();
  }

  /** What is known now; what is not is looked for, and `onDidChange` tells when it is there. */
  textFor(note: Uri): string | undefined {
    const folder = folderOf(note);
    if (!folder) return undefined;
    void this.#find(folder);
    return this.#texts.get(folder.toString())?.text;
  }

  #forget(): void {
    this.#known.clear();
    this.#texts.clear();
    this.#tellForOpenNotes();
    for (const folder of this.#asked.values()) void this.#tell(folder);
    this.#changed.fire();
  }

  /** Tells the server of the shop file of a note that it asked for, if it does not know yet. */
  async tellBefore(note: Uri): Promise<void> {
    const folder = folderOf(note);
    if (!folder || this.#asked.has(folder.toString())) return;
    this.#asked.set(folder.toString(), folder);
    await this.#tell(folder);
  }

  #tellForOpenNotes(): void {
    for (const { uri, languageId } of workspace.textDocuments)
      if (languageId === "markdown") this.#tellFor(uri);
  }

  #tellFor(note: Uri): void {
    const folder = folderOf(note);
    if (!folder || !this.#server || this.#server.reads.has(note.scheme)) return;
    void this.#tell(folder);
  }

  async #tell(folder: Uri): Promise<void> {
    const shop = await this.#find(folder);
    this.#server?.tellShop(folder, shop);
  }

  #find(folder: Uri): Promise<ShopText | undefined> {
    const key = folder.toString();
    const known = this.#known.get(key);
    if (known) return known;
    const found = nearestShop(folder).then((shop) => {
      this.#texts.set(key, shop);
      if (shop) this.#changed.fire();
      return shop;
    });
    this.#known.set(key, found);
    return found;
  }
}

const isShopFile = ({ path }: Uri): boolean => path.endsWith(`/${SHOP_FILE}`);

/** The note's folder; undefined for a text that is in none yet. */
function folderOf(note: Uri): Uri | undefined {
  return note.scheme === "untitled" ? undefined : Uri.joinPath(note, "..");
}

async function nearestShop(folder: Uri): Promise<ShopText | undefined> {
  for (let at = folder; ; at = Uri.joinPath(at, "..")) {
    const uri = Uri.joinPath(at, SHOP_FILE);
    const open = workspace.textDocuments.find((document) => document.uri.toString() === uri.toString());
    if (open) return { uri, text: open.getText() };
    if ((await typeOf(uri)) === FileType.File) {
      const bytes = await workspace.fs.readFile(uri);
      return { uri, text: new TextDecoder().decode(bytes) };
    }
    const above = Uri.joinPath(at, "..");
    if (above.path === at.path || (await typeOf(Uri.joinPath(at, ".git"))) !== undefined) return undefined;
  }
}

async function typeOf(uri: Uri): Promise<FileType | undefined> {
  try {
    return (await workspace.fs.stat(uri)).type;
  } catch {
    // Not there, or nothing that this file system shows.
    return undefined;
  }
}
