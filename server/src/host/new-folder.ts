import { randomBytes } from "node:crypto";
import { lstatSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { reasonOf } from "./read-text.ts";

/**
 * A folder that is written as a whole: under a name of its own beside the place where it belongs, and moved
 * there when everything is in it. Whoever looks meanwhile finds the old one, and nobody finds half of one.
 */
export class NewFolder {
  readonly #files: FolderFiles;

  private constructor(
    /** Where it belongs. */
    readonly target: string,
    /** Where it is written: for threads that write into it too. */
    readonly part: string,
    private readonly mark: string,
  ) {
    this.#files = new FolderFiles(part);
  }

  /**
   * @param mark name of a file that tells a folder made this way; no other folder is ever replaced
   * @returns why it cannot be, as a clause that follows the folder's name
   */
  static beside(target: string, mark: string): NewFolder | string {
    const refusal = whyNot(target, mark);
    if (refusal !== undefined) return refusal;
    const part = join(dirname(target), `.${basename(target)}.${randomBytes(5).toString("hex")}.part`);
    try {
      mkdirSync(part);
    } catch (fault) {
      return `cannot be written: the folder that it belongs in ${reasonOf(fault)}`;
    }
    return new NewFolder(target, part, mark);
  }

  /** @param path inside the folder, with forward slashes */
  write(path: string, content: string | Buffer): void {
    this.#files.write(path, content);
  }

  /** Puts it in its place. */
  finish(): void {
    writeFileSync(join(this.part, this.mark), "");
    const old = `${this.part}.old`;
    const there = lstatSync(this.target, { throwIfNoEntry: false }) !== undefined;
    if (there) renameSync(this.target, old);
    try {
      renameSync(this.part, this.target);
    } catch (fault) {
      if (there) renameSync(old, this.target);
      throw fault;
    }
    rmSync(old, { recursive: true, force: true });
  }

  /** Leaves everything as it was. */
  discard(): void {
    rmSync(this.part, { recursive: true, force: true });
  }
}

/** Writes files into a folder, and only there. */
export class FolderFiles {
  readonly #made = new Set<string>();

  constructor(private readonly folder: string) {}

  /**
   * Written anew where it is there already: what a thread left half-written when it broke off is made good so.
   *
   * @param path inside the folder, with forward slashes
   */
  write(path: string, content: string | Buffer): void {
    const file = resolve(this.folder, path);
    const way = relative(this.folder, file);
    if (way === "" || way === ".." || way.startsWith(`..${sep}`)) throw new Error(`${path} leads outside`);
    const folder = dirname(file);
    if (!this.#made.has(folder)) mkdirSync(folder, { recursive: true });
    this.#made.add(folder);
    writeFileSync(file, content);
  }
}

function whyNot(target: string, mark: string): string | undefined {
  try {
    const there = lstatSync(target, { throwIfNoEntry: false });
    if (there === undefined) return undefined;
    if (!there.isDirectory()) return "is there already and is no folder";
    const held = readdirSync(target);
    if (held.length === 0 || held.includes(mark)) return undefined;
    return "is there already, and what is in it was not made by this command. Name a folder that is empty or new";
  } catch (fault) {
    return reasonOf(fault);
  }
}
