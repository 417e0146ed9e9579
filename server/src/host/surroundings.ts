import { existsSync } from "node:fs";
import { resolve } from "node:path";
import type { Surroundings } from "../check/analyze.ts";
import type { Note } from "../note/note.ts";
import { filePartOf } from "../note/prose-links.ts";

/** Gathers what the analysis cannot know by itself: which files that the note points to are not there. */
export function surroundingsOf(
  note: Note,
  folder: string,
  exists: (path: string) => boolean = existsSync,
): Surroundings {
  let missing: Set<string> | undefined;
  for (const target of fileTargets(note)) {
    const path = besideNote(target);
    if (path === undefined || exists(resolve(folder, path))) continue;
    missing ??= new Set();
    missing.add(target);
  }
  return missing === undefined ? {} : { missing };
}

/** What the note points to, as written: links and pictures of the prose, and logs of its series. */
function* fileTargets(note: Note): Generator<string> {
  for (const link of note.links) yield link.target;
  for (const block of note.blocks) {
    if (block.kind !== "series") continue;
    for (const { syntax } of block.lines) {
      if (syntax.kind === "option" && syntax.key.key === "from") yield syntax.value.text;
    }
  }
}

/**
 * The part of a link target that names a file beside the note. Undefined for addresses on the web, places
 * inside the note itself, and targets from the root, whose meaning depends on the viewer.
 */
function besideNote(target: string): string | undefined {
  return target.startsWith("/") ? undefined : filePartOf(target);
}
