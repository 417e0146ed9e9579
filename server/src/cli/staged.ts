import { resolve } from "node:path";
import { Git, type GitAnswer } from "../host/git.ts";
import { GitSource, isNotePath, isShopPath } from "../host/git-source.ts";
import type { Libraries } from "../host/libraries.ts";
import type { NoteSource } from "../host/note-source.ts";

/** What the next commit would add or change among notes and shop files, as it stands in git's index. */
export interface Staged {
  readonly notes: readonly string[];
  readonly shops: readonly string[];
  readonly source: NoteSource;
}

/** @param asked files and folders to look at alone; all where there are none */
export function findStaged(
  asked: readonly string[],
  folder: string,
  libraries: Libraries,
): GitAnswer<Staged> {
  const git = Git.at(folder);
  if (!git.ok) return git;
  const repository = git.value;
  const within = asked.map((path) => repository.inside(resolve(folder, path)));
  const outside = asked.find((_, i) => within[i] === undefined);
  if (outside !== undefined) return { ok: false, reason: `\`${outside}\` is not in this git repository.` };
  // Without a commit yet, git compares the index with nothing, so the first commit is checked like any other.
  const changed = repository.list([
    ...["diff", "--cached", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--diff-filter=ACMRT"],
    "--",
  ]);
  if (!changed.ok) return changed;
  const source = GitSource.index(repository, libraries);
  if (!source.ok) return source;
  const wanted = changed.value.filter(
    (path) =>
      within.length === 0 || within.some((at) => at === "" || path === at || path.startsWith(`${at}/`)),
  );
  const absolute = (path: string): string => repository.outside(path);
  const notes = wanted.filter(isNotePath).map(absolute).sort();
  const shops = wanted.filter(isShopPath).map(absolute).sort();
  source.value.fetch([...notes, ...shops]);
  return { ok: true, value: { notes, shops, source: source.value } };
}
