import type { NoteRecord } from "../../base/record.ts";

/**
 * Where each note's page stands. File names keep to letters, digits, dots, hyphens and underscores, and differ
 * in more than case, so that a site is the same on every disk and behind every server.
 */
export interface SiteMap {
  /** Page of a note by its path as shown, from the top of the site. */
  page(path: string): string | undefined;
  /** A file name of its own below a folder of the site, made from words. */
  named(folder: string, words: string): string;
}

export function siteMap(notes: readonly NoteRecord[]): SiteMap {
  const taken = new Set<string>();
  const pages = new Map<string, string>();
  const named = (folder: string, words: string): string => {
    const plain = safe(words);
    for (let number = 1; ; number++) {
      const name = `${folder}/${plain}${number === 1 ? "" : `-${number}`}.html`;
      if (taken.has(name.toLowerCase())) continue;
      taken.add(name.toLowerCase());
      return name;
    }
  };
  const shared = sharedFolder(notes.map(({ path }) => path));
  for (const { path } of notes) {
    const parts = path.slice(shared.length).split("/");
    const file = (parts.pop() ?? "").replace(/\.[^.]*$/, "");
    pages.set(path, named(["jobs", ...parts.map(safe)].join("/"), file));
  }
  return { page: (path) => pages.get(path), named };
}

/** A link from one page to another, both given from the top of the site. */
export function wayTo(page: string, from: string): string {
  return "../".repeat(from.split("/").length - 1) + page;
}

const RESERVED = /^(?:con|prn|aux|nul|com\d|lpt\d)$/i;
const LONGEST = 80;

function safe(words: string): string {
  const plain = words
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[^A-Za-z0-9._-]+/g, "-")
    .replace(/^[-.]+|[-.]+$/g, "")
    .slice(0, LONGEST);
  return plain === "" ? "page" : RESERVED.test(plain.split(".", 1)[0] ?? "") ? `-${plain}` : plain;
}

/** The folder that all paths have in common, with its closing slash. */
function sharedFolder(paths: readonly string[]): string {
  const [first = ""] = paths;
  let shared = first.slice(0, first.lastIndexOf("/") + 1);
  for (const path of paths) {
    while (!path.startsWith(shared)) shared = shared.slice(0, shared.lastIndexOf("/", shared.length - 2) + 1);
  }
  return shared;
}
