import { spawnSync } from "node:child_process";
import { join, relative, resolve, sep } from "node:path";

/** What git answered, or why it did not, as a sentence. */
export type GitAnswer<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: string };

const MOST_OUTPUT = 1024 * 1024 * 1024;

/** One git repository, asked through the git program. No shell is started, and nothing is ever changed in it. */
export class Git {
  private constructor(
    /** The top folder of the work tree, seen the way the command's own folder is written. */
    readonly root: string,
  ) {}

  /** The repository that holds a folder. */
  static at(folder: string): GitAnswer<Git> {
    const found = git(folder, ["rev-parse", "--is-inside-work-tree", "--show-prefix"]);
    if (!found.ok) return found;
    const [inside, prefix = ""] = found.value.toString("utf8").split("\n");
    if (inside !== "true")
      return { ok: false, reason: "This folder belongs to git itself, not to a work tree." };
    const depth = prefix.split("/").filter((part) => part !== "").length;
    return { ok: true, value: new Git(resolve(folder, ...Array.from({ length: depth }, () => ".."))) };
  }

  /** The full name of the commit that a revision means. */
  commit(revision: string): GitAnswer<string> {
    const asked = ["rev-parse", "--verify", "--quiet", "--end-of-options", `${revision}^{commit}`];
    const found = this.ask(asked);
    if (found.ok) return { ok: true, value: found.value.toString("utf8").trim() };
    return { ok: false, reason: `git knows no revision \`${revision}\` here.` };
  }

  /** The commit at which two revisions parted. */
  parting(one: string, other: string): GitAnswer<string> {
    const found = this.ask(["merge-base", one, other]);
    if (found.ok) return { ok: true, value: found.value.toString("utf8").trim() };
    return { ok: false, reason: "These two revisions have no commit in common." };
  }

  /** Runs git in the top folder. `input` goes to its standard input. */
  ask(args: readonly string[], input?: string): GitAnswer<Buffer> {
    return git(this.root, args, input);
  }

  /** Like `ask`, for lists that git ends with NUL, so that any file name is safe. */
  list(args: readonly string[]): GitAnswer<string[]> {
    const found = this.ask(args);
    if (!found.ok) return found;
    return { ok: true, value: found.value.toString("utf8").split("\0").slice(0, -1) };
  }

  /** A path as git writes it; undefined where it lies outside. */
  inside(path: string): string | undefined {
    const way = relative(this.root, path);
    if (way === ".." || way.startsWith(`..${sep}`)) return undefined;
    return sep === "/" ? way : way.split(sep).join("/");
  }

  outside(path: string): string {
    return join(this.root, path);
  }
}

function git(folder: string, args: readonly string[], input?: string): GitAnswer<Buffer> {
  // A monitor is a program that the repository's own settings name; reading notes must not start one.
  const ran = spawnSync("git", ["--no-pager", "-c", "core.fsmonitor=false", ...args], {
    cwd: folder,
    maxBuffer: MOST_OUTPUT,
    windowsHide: true,
    // Locks are for those who write; reading goes on beside somebody who commits.
    env: { ...process.env, GIT_OPTIONAL_LOCKS: "0", LC_ALL: "C" },
    ...(input === undefined ? {} : { input }),
  });
  if (ran.error) {
    const missing = "code" in ran.error && ran.error.code === "ENOENT";
    return {
      ok: false,
      reason: missing
        ? "The program git was not found on this computer."
        : `git could not be run: ${ran.error.message}.`,
    };
  }
  if (ran.status === 0) return { ok: true, value: ran.stdout };
  const said = ran.stderr.toString("utf8").trim().split("\n", 1)[0] ?? "";
  return {
    ok: false,
    reason: /not a git repository/.test(said)
      ? "This folder is in no git repository."
      : `git could not answer: ${said.replace(/^fatal: /, "") || `it ended with ${ran.status}`}.`,
  };
}
