import { resolve } from "node:path";
import { findTexts } from "../host/find-texts.ts";
import { Git, type GitAnswer } from "../host/git.ts";
import { GitSource, isNotePath, isShopPath } from "../host/git-source.ts";
import { fromDisk, type NoteSource } from "../host/note-source.ts";
import type { Baseline } from "../report/review/review.ts";
import { shownPath } from "./note-reader.ts";
import type { Outside } from "./outside.ts";

/** The notes to review, and where they and their earlier states are read from. */
export interface ToReview {
  readonly notes: readonly {
    readonly path: string;
    /** Where the note stood in the earlier state; undefined where it is new. */
    readonly was?: string;
    readonly named: boolean;
  }[];
  readonly source: NoteSource;
  readonly before?: NoteSource;
  readonly baseline?: Baseline;
  readonly failures: readonly { readonly path: string; readonly reason: string }[];
}

/** Notes as they lie on the disk, with nothing to compare them with. */
export function asTheyLie(paths: readonly string[], { folder, libraries }: Outside): GitAnswer<ToReview> {
  const { notes, named, failures } = findTexts(paths, folder);
  return {
    ok: true,
    value: {
      notes: notes.map((path) => ({ path, named: named.has(path) })),
      source: fromDisk(libraries),
      failures,
    },
  };
}

/** The notes below the paths that are not as they were at a revision. */
export function changedSince(
  since: string,
  paths: readonly string[],
  { folder, libraries }: Outside,
): GitAnswer<ToReview> {
  const at = Git.at(folder);
  if (!at.ok) return at;
  const git = at.value;
  const within = paths.map((path) => git.inside(resolve(folder, path)));
  const stray = paths.find((_, i) => within[i] === undefined);
  if (stray !== undefined) return { ok: false, reason: `\`${stray}\` is not in this git repository.` };

  const range = /^(.*?)(\.\.\.?)(.*)$/.exec(since);
  const first = git.commit(range ? range[1] || "HEAD" : since);
  if (!first.ok) return first;
  const last = range ? git.commit(range[3] || "HEAD") : undefined;
  if (last && !last.ok) return last;
  const start = last && range?.[2] === "..." ? git.parting(first.value, last.value) : first;
  if (!start.ok) return start;

  const before = GitSource.revision(git, start.value, libraries);
  if (!before.ok) return before;
  const after = last && GitSource.revision(git, last.value, libraries);
  if (after && !after.ok) return after;
  const changes = changesBetween(git, start.value, last?.value);
  if (!changes.ok) return changes;

  const below = (path: string): boolean =>
    within.some((top) => top === "" || path === top || path.startsWith(`${top}/`));
  const wanted = (path: string): boolean => isNotePath(path) && below(path);
  const notes = changes.value.filter(({ now }) => now !== undefined && wanted(now));
  const gone = changes.value.filter(({ was, now }) => now === undefined && was !== undefined && wanted(was));
  const shops = changes.value
    .map(({ was, now }) => now ?? was ?? "")
    .filter((path) => isShopPath(path) && below(path));
  before.value.fetch(notes.flatMap(({ was }) => (was === undefined ? [] : [git.outside(was)])));
  after?.value.fetch(notes.flatMap(({ now }) => (now === undefined ? [] : [git.outside(now)])));
  return {
    ok: true,
    value: {
      notes: notes.map(({ was, now = "" }) => ({
        path: git.outside(now),
        named: false,
        ...(was === undefined ? {} : { was: git.outside(was) }),
      })),
      source: after?.value ?? fromDisk(libraries),
      before: before.value,
      baseline: {
        // The whole name of a commit is longer than anybody reads.
        name: since.replace(/\b[0-9a-f]{40}\b/g, (name) => name.slice(0, 10)),
        shops: shops.map((path) => shownPath(git.outside(path), folder)),
        gone: gone.map(({ was = "" }) => shownPath(git.outside(was), folder)),
      },
      failures: [],
    },
  };
}

interface Change {
  readonly was?: string;
  readonly now?: string;
}

/** Files that differ between a commit and another, or the work tree; new files that git does not know yet count. */
function changesBetween(git: Git, from: string, to: string | undefined): GitAnswer<Change[]> {
  const form = ["--name-status", "-z", "--find-renames", "--no-ext-diff", "--no-textconv"];
  const listed = git.list(["diff", ...form, from, ...(to === undefined ? [] : [to]), "--"]);
  if (!listed.ok) return listed;
  const changes: Change[] = [];
  const words = listed.value;
  for (let i = 0; i < words.length; ) {
    const state = words[i++] ?? "";
    const was = words[i++] ?? "";
    if (/^[RC]/.test(state)) changes.push({ was, now: words[i++] ?? "" });
    else if (state === "A") changes.push({ now: was });
    else if (state === "D") changes.push({ was });
    else changes.push({ was, now: was });
  }
  if (to === undefined) {
    const unknown = git.list(["ls-files", "--others", "--exclude-standard", "-z", "--full-name"]);
    if (!unknown.ok) return unknown;
    changes.push(...unknown.value.map((now) => ({ now })));
  }
  return { ok: true, value: changes.sort((a, b) => ((a.now ?? "") < (b.now ?? "") ? -1 : 1)) };
}
