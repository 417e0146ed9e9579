import type { FileEvent } from "vscode-languageserver";
import type { LiveBase } from "../base/live-base.ts";
import type { BaseLibrary } from "../host/libraries.ts";
import { addressKey, folderOf, isAmong, isBelow, isMarkdownKey, shownPaths } from "./addresses.ts";
import type { ClientNotes } from "./client-notes.ts";
import type { Files, ShopFile } from "./files.ts";
import { linkedKeys } from "./linked-keys.ts";
import type { CheckedNote, Session } from "./session.ts";
import type { Turns } from "./turns.ts";

/** Notes that only the client can read are fetched this many at a time: enough to keep a slow network busy. */
const FETCHED_AT_ONCE = 16;

/** `FileChangeType` of the protocol. */
const [CREATED, CHANGED] = [1, 2];

/** What the index knows of one markdown file, job note or not. */
interface Kept {
  readonly uri: string;
  /** The file's state when it was read; empty for what stood in the editor. */
  readonly stamp: string;
  /** For a text that is open: what it was checked as; null for what is no job note. */
  readonly open?: CheckedNote | null;
  /** Other files that count for it. */
  readonly others: readonly string[];
}

export interface IndexSurroundings {
  readonly session: Pick<Session, "checked" | "read">;
  readonly files: Pick<Files, "markdownIn" | "reads" | "shopFile" | "stamp" | "text">;
  readonly notes: ClientNotes | undefined;
  /** Addresses of the texts that are open. */
  readonly open: () => readonly string[];
  readonly folders: () => readonly string[];
  /** Whether the client tells of files that change; else every question looks at all of them. */
  readonly watches: boolean;
  /** Forgets what is known of the files round the notes. */
  readonly lookAgain: () => void;
  readonly turns: Pick<Turns, "give" | "waitFor">;
}

/** Is told how far the reading is. */
export type Reading = (done: number, of: number) => void;

/**
 * All notes of the open folders, as a base to ask. Made at the first question and kept: open notes count as
 * they stand in the editor, and the others are read again when their file, their shop file, a log or a
 * picture of theirs has changed. What was read stays read when a question is called off half-way.
 */
export class NotesIndex {
  readonly live: LiveBase;
  readonly #kept = new Map<string, Kept>();
  readonly #stale = new Set<string>();
  readonly #uris = new Map<string, string>();
  /** Notes by the key of another file that counts for them. */
  readonly #users = new Map<string, Set<string>>();
  /** By folder: the shop file that its notes were checked with. */
  readonly #shops = new Map<string, ShopFile | undefined>();
  readonly #unread = new Set<string>();
  /** Whether the folders have to be searched for notes. */
  #search = true;
  #folders: readonly string[] = [];
  #pathOf = shownPaths([]);

  constructor(
    private readonly library: BaseLibrary,
    private readonly around: IndexSurroundings,
  ) {
    this.live = new library.LiveBase();
  }

  /** Files were changed, made, deleted or moved, as an editor tells. */
  filesChanged(changes: readonly FileEvent[]): void {
    for (const { uri, type } of changes) {
      const key = addressKey(uri);
      for (const user of this.#users.get(key) ?? []) this.#stale.add(user);
      if (isMarkdownKey(key)) {
        this.#uris.set(key, uri);
        this.#stale.add(key);
        continue;
      }
      if (type === CHANGED) continue;
      // It may be a folder, whose notes are then not told of one by one.
      if (type === CREATED) this.#search = true;
      for (const known of this.#kept.keys()) if (isBelow(known, key)) this.#stale.add(known);
      for (const [other, users] of this.#users)
        if (isBelow(other, key)) for (const user of users) this.#stale.add(user);
    }
  }

  readonly uriOf = (key: string): string => this.#uris.get(key) ?? key;

  /** Files that may be job notes and cannot be read, by address. */
  get unread(): readonly string[] {
    return [...this.#unread].map((key) => this.uriOf(key));
  }

  /**
   * Brings everything up to date; stops early when it is called off.
   *
   * @param off whether it is called off
   * @param again looks at every file, also where no change was told
   */
  async update(off: () => boolean, again: boolean, told: Reading): Promise<void> {
    const folders = this.around.folders();
    if (folders.join("\n") !== this.#folders.join("\n")) this.#takeFolders(folders);
    const open = new Map(this.around.open().map((uri) => [addressKey(uri), uri]));
    const lookAtAll = again || !this.around.watches;
    if (lookAtAll) this.around.lookAgain();
    if (this.#search || lookAtAll) await this.#searchFolders(off, open, lookAtAll);
    this.#lookAtShops();
    for (const [key, kept] of this.#kept) {
      // It was closed: from now on the disk counts.
      if (kept.open !== undefined && !open.has(key)) this.#stale.add(key);
    }
    await this.#readStale(off, open, told);
    for (const [key, uri] of open) {
      if (off()) return;
      // Closed while others were read: it stays as it was last known, and the next question asks the disk.
      if (this.around.open().includes(uri)) this.#takeOpen(key, uri);
      else this.#stale.add(key);
      await this.around.turns.give();
    }
  }

  #takeFolders(folders: readonly string[]): void {
    this.#folders = folders;
    this.#search = true;
    this.#pathOf = shownPaths(folders);
    for (const [key, { uri }] of this.#kept) {
      const note = this.live.note(key);
      const path = this.#pathOf(uri);
      if (note && note.path !== path) this.live.set(key, { ...note, path });
    }
  }

  async #searchFolders(
    off: () => boolean,
    open: ReadonlyMap<string, string>,
    lookAtAll: boolean,
  ): Promise<void> {
    const { files, notes, turns } = this.around;
    const uris = [...files.markdownIn(this.#folders)];
    if (notes && this.#folders.some((uri) => !files.reads(uri)))
      uris.push(...((await turns.waitFor(notes.list(), off)) ?? []).filter((uri) => !files.reads(uri)));
    if (off()) return;
    this.#search = false;
    const found = new Set<string>();
    for (const uri of uris) {
      const key = addressKey(uri);
      found.add(key);
      this.#uris.set(key, uri);
      const kept = this.#kept.get(key);
      if (!kept) this.#stale.add(key);
      else if (lookAtAll && kept.open === undefined) {
        // Without being told of changes, nobody knows about the files that a note points to.
        const same = files.reads(uri) && kept.stamp === files.stamp(uri) && kept.others.length === 0;
        if (!same) this.#stale.add(key);
        await turns.give();
      }
    }
    for (const key of this.#kept.keys()) if (!found.has(key) && !open.has(key)) this.#drop(key);
  }

  /** Where a folder's shop file is another one than before, or reads differently, its notes are stale. */
  #lookAtShops(): void {
    const changed = new Set<string>();
    for (const [folder, before] of this.#shops) {
      if (this.around.files.shopFile(`${folder}/note.md`) === before) continue;
      changed.add(folder);
      this.#shops.delete(folder);
    }
    if (changed.size === 0) return;
    for (const [key, { uri }] of this.#kept) if (changed.has(folderOf(uri))) this.#stale.add(key);
  }

  async #readStale(off: () => boolean, open: ReadonlyMap<string, string>, told: Reading): Promise<void> {
    const { files, notes, turns } = this.around;
    const roots = this.#folders.map(addressKey);
    const waiting: string[] = [];
    for (const key of this.#stale) {
      if (open.has(key)) continue;
      if (isAmong(key, roots)) waiting.push(key);
      else this.#drop(key);
    }
    for (let done = 0; done < waiting.length; ) {
      if (off()) return;
      const key = waiting[done] ?? "";
      const uri = this.uriOf(key);
      if (notes && !files.reads(uri)) {
        const some = waiting.slice(done, done + FETCHED_AT_ONCE);
        // What is told of a file while its text is on the way makes it stale again.
        for (const one of some) this.#stale.delete(one);
        const asked = Promise.all(some.map((one) => notes.text(this.uriOf(one))));
        const texts = await turns.waitFor(asked, off);
        if (texts === undefined) {
          for (const one of some) this.#stale.add(one);
          return;
        }
        some.forEach((one, i) => {
          this.#take(one, "", texts[i]);
        });
        done += some.length;
      } else {
        this.#stale.delete(key);
        const stamp = files.stamp(uri);
        this.#take(key, stamp, stamp === "" ? undefined : files.text(uri));
        done++;
      }
      told(done, waiting.length);
      await turns.give();
    }
  }

  /** Takes up a note that is not open. */
  #take(key: string, stamp: string, text: string | undefined): void {
    const uri = this.uriOf(key);
    if (text === undefined) {
      this.#drop(key);
      if (stamp === "") return;
      // There, and not to be read. It is looked at again when it changes, and not at every question.
      this.#kept.set(key, { uri, stamp, others: [] });
      this.#unread.add(key);
      return;
    }
    let checked: CheckedNote | undefined;
    let failed = false;
    try {
      checked = this.around.session.read(uri, text);
    } catch {
      // A fault of ours with one note must not cost the answer about all others.
      failed = true;
    }
    this.#keep(key, { uri, stamp, others: checked ? linkedKeys(uri, checked.analysis.note) : [] }, checked);
    if (failed) this.#unread.add(key);
  }

  #takeOpen(key: string, uri: string): void {
    const checked = this.around.session.checked(uri) ?? null;
    this.#stale.delete(key);
    if (this.#kept.get(key)?.open === checked) return;
    this.#uris.set(key, uri);
    // What a change of other files does to an open note, the session knows by itself.
    this.#keep(key, { uri, stamp: "", open: checked, others: [] }, checked ?? undefined);
  }

  #keep(key: string, kept: Kept, checked: CheckedNote | undefined): void {
    this.#forgetOthers(key);
    this.#unread.delete(key);
    this.#kept.set(key, kept);
    for (const other of kept.others) {
      const users = this.#users.get(other);
      if (users) users.add(key);
      else this.#users.set(other, new Set([key]));
    }
    if (!checked) {
      this.live.delete(key);
      return;
    }
    const folder = folderOf(kept.uri);
    if (!this.#shops.has(folder)) this.#shops.set(folder, this.around.files.shopFile(kept.uri));
    const path = this.#pathOf(kept.uri);
    const record = this.library.makeRecord(path, checked.analysis, checked.shop);
    // Parts of a text keep the whole of it in memory. An open note is there anyhow.
    const parted = kept.open ? record : this.library.parseRecord(JSON.stringify(record), path);
    this.live.set(key, parted);
  }

  #drop(key: string): void {
    this.#stale.delete(key);
    this.#unread.delete(key);
    this.#forgetOthers(key);
    this.#kept.delete(key);
    this.live.delete(key);
  }

  #forgetOthers(key: string): void {
    for (const other of this.#kept.get(key)?.others ?? []) {
      const users = this.#users.get(other);
      users?.delete(key);
      if (users?.size === 0) this.#users.delete(other);
    }
  }
}
