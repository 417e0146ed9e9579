import { existsSync } from "node:fs";
import { dirname } from "node:path";
import type { Git, GitAnswer } from "./git.ts";
import type { Libraries } from "./libraries.ts";
import { SHOP_FILE } from "./nearest-shop.ts";
import type { NoteSource } from "./note-source.ts";
import { MAX_BYTES, type TextReading, textOf } from "./read-text.ts";

const MARKDOWN = /\.(?:md|markdown)$/i;
const HIDDEN = /(?:^|\/)(?:\.[^/]*|node_modules)\//;
/** So much of the repository's content is asked for at once. */
const AT_ONCE = 32 * 1024 * 1024;

/** Whether a path of git's is one of those that a search on the disk would find, too. */
export const isNotePath = (path: string): boolean => MARKDOWN.test(path) && !HIDDEN.test(path);
export const isShopPath = (path: string): boolean =>
  (path === SHOP_FILE || path.endsWith(`/${SHOP_FILE}`)) && !HIDDEN.test(path);

/** Notes as git keeps them, in the index or in a revision, whatever lies in the work tree. */
export class GitSource implements NoteSource {
  readonly #bytes = new Map<string, Buffer>();
  #folders: Set<string> | undefined;

  private constructor(
    private readonly git: Git,
    private readonly logs: Libraries["logs"],
    /** Object name by path; links and other repositories are left out. */
    private readonly objects: ReadonlyMap<string, string>,
  ) {}

  /** What is about to be committed. It is there before the first commit, too. */
  static index(git: Git, { logs }: Pick<Libraries, "logs">): GitAnswer<GitSource> {
    const found = git.list(["ls-files", "--stage", "-z", "--full-name"]);
    if (!found.ok) return found;
    return { ok: true, value: new GitSource(git, logs, objectsIn(found.value, /^(\d+) (\S+) 0\t(.*)$/s)) };
  }

  /** @param commit its full name */
  static revision(git: Git, commit: string, { logs }: Pick<Libraries, "logs">): GitAnswer<GitSource> {
    const found = git.list(["ls-tree", "-r", "-z", "--full-tree", commit]);
    if (!found.ok) return found;
    return { ok: true, value: new GitSource(git, logs, objectsIn(found.value, /^(\d+) blob (\S+)\t(.*)$/s)) };
  }

  /** Paths of all notes, absolute, in order. */
  notes(): string[] {
    return [...this.objects.keys()].filter(isNotePath).map((path) => this.git.outside(path));
  }

  /** Asks for the content of many files in a few questions; reading them afterwards asks no more. */
  fetch(paths: readonly string[]): void {
    const wanted = new Set<string>();
    for (const path of paths) {
      const object = this.#objectOf(path);
      if (object !== undefined && !this.#bytes.has(object)) wanted.add(object);
    }
    if (wanted.size === 0) return;
    const sizes = this.git.ask(["cat-file", "--batch-check=%(objectname) %(objectsize)"], lines(wanted));
    if (!sizes.ok) return;
    let part: string[] = [];
    let size = 0;
    for (const line of sizes.value.toString("latin1").split("\n")) {
      const [object = "", bytes = ""] = line.split(" ");
      if (!/^\d+$/.test(bytes)) continue;
      if (size + Number(bytes) > AT_ONCE && part.length > 0) {
        this.#take(part);
        part = [];
        size = 0;
      }
      part.push(object);
      size += Number(bytes);
    }
    this.#take(part);
  }

  read(path: string): TextReading {
    const bytes = this.#bytesOf(path);
    if (bytes === undefined) return { ok: false, reason: "is not there" };
    // The reader says of what is too large that it is, from its size alone.
    return textOf(bytes.length > MAX_BYTES ? bytes.subarray(0, MAX_BYTES + 1) : bytes);
  }

  exists(path: string): boolean {
    const inside = this.git.inside(path);
    if (inside === undefined) return existsSync(path);
    if (inside === "" || this.objects.has(inside) || this.#allFolders().has(inside)) return true;
    // Photos that are kept out of git on purpose are where they belong.
    return existsSync(path) && this.git.ask(["check-ignore", "--quiet", "--", inside]).ok;
  }

  shopFor(folder: string): string | undefined {
    const inside = this.git.inside(folder);
    if (inside === undefined) return undefined;
    for (let at = inside; ; at = at.includes("/") ? dirname(at) : "") {
      const path = at === "" ? SHOP_FILE : `${at}/${SHOP_FILE}`;
      if (this.objects.has(path)) return this.git.outside(path);
      if (at === "") return undefined;
    }
  }

  log(...[request, folder, root]: Parameters<NoteSource["log"]>): ReturnType<NoteSource["log"]> {
    return this.logs(request, folder, root, (path) => this.#bytesOf(path));
  }

  #objectOf(path: string): string | undefined {
    const inside = this.git.inside(path);
    return inside === undefined ? undefined : this.objects.get(inside);
  }

  #bytesOf(path: string): Buffer | undefined {
    const object = this.#objectOf(path);
    if (object === undefined) return undefined;
    if (!this.#bytes.has(object)) this.#take([object]);
    return this.#bytes.get(object);
  }

  #take(objects: readonly string[]): void {
    if (objects.length === 0) return;
    const found = this.git.ask(["cat-file", "--batch"], lines(objects));
    if (!found.ok) return;
    const { value } = found;
    for (let at = 0; at < value.length; ) {
      const end = value.indexOf(10, at);
      const [object = "", kind, size = ""] = value.toString("latin1", at, end).split(" ");
      if (kind === "missing") {
        at = end + 1;
        continue;
      }
      const from = end + 1;
      const to = from + Number(size);
      this.#bytes.set(object, value.subarray(from, to));
      at = to + 1;
    }
  }

  #allFolders(): ReadonlySet<string> {
    if (this.#folders !== undefined) return this.#folders;
    const folders = new Set<string>();
    for (const path of this.objects.keys()) {
      for (let cut = path.lastIndexOf("/"); cut > 0; cut = path.lastIndexOf("/", cut - 1)) {
        const folder = path.slice(0, cut);
        if (folders.has(folder)) break;
        folders.add(folder);
      }
    }
    this.#folders = folders;
    return folders;
  }
}

const lines = (objects: Iterable<string>): string => `${[...objects].join("\n")}\n`;

function objectsIn(entries: readonly string[], form: RegExp): Map<string, string> {
  const objects = new Map<string, string>();
  for (const entry of entries) {
    const [, mode = "", object = "", path = ""] = form.exec(entry) ?? [];
    // Plain and executable files only.
    if (mode.startsWith("100")) objects.set(path, object);
  }
  return objects;
}
