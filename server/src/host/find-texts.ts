import { readdirSync, statSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { SHOP_FILE } from "./nearest-shop.ts";
import { reasonOf } from "./read-text.ts";

/** What a search for notes found. Paths are absolute. */
export interface FoundTexts {
  /** In order of path, each once. */
  readonly notes: readonly string[];
  readonly shops: readonly string[];
  /** Those of `notes` that were asked for by name. */
  readonly named: ReadonlySet<string>;
  /** What was asked for and could not be looked at. */
  readonly failures: readonly { readonly path: string; readonly reason: string }[];
}

const MARKDOWN = /\.(?:md|markdown)$/i;

/**
 * Finds markdown and shop files. Folders are searched all the way down, without folders whose name starts
 * with a dot, without `node_modules`, and without following links to folders, which may lead in a circle.
 */
export function findTexts(paths: readonly string[], from: string): FoundTexts {
  const notes = new Set<string>();
  const shops = new Set<string>();
  const named = new Set<string>();
  const failures: { path: string; reason: string }[] = [];

  const search = (folder: string, asked: string): void => {
    let entries: ReturnType<typeof entriesOf>;
    try {
      entries = entriesOf(folder);
    } catch (fault) {
      failures.push({ path: asked, reason: reasonOf(fault) });
      return;
    }
    for (const entry of entries) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) {
        if (!entry.name.startsWith(".") && entry.name !== "node_modules") search(path, path);
      } else if (entry.name === SHOP_FILE) {
        if (isFileEntry(entry, path)) shops.add(path);
      } else if (MARKDOWN.test(entry.name) && isFileEntry(entry, path)) notes.add(path);
    }
  };

  for (const asked of paths) {
    const path = resolve(from, asked);
    try {
      if (statSync(path).isDirectory()) {
        search(path, asked);
        continue;
      }
    } catch (fault) {
      failures.push({ path: asked, reason: reasonOf(fault) });
      continue;
    }
    if (basename(path) === SHOP_FILE) shops.add(path);
    else {
      notes.add(path);
      named.add(path);
    }
  }
  return { notes: [...notes].sort(), shops: [...shops].sort(), named, failures };
}

function entriesOf(folder: string) {
  return readdirSync(folder, { withFileTypes: true });
}

function isFileEntry(entry: { isFile(): boolean; isSymbolicLink(): boolean }, path: string): boolean {
  if (entry.isFile()) return true;
  if (!entry.isSymbolicLink()) return false;
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
}
