import type { TextEdit } from "../analysis/analysis.ts";
import type { Note } from "../note/note.ts";
import { type DocumentLink, documentLinks } from "./document-links.ts";

/** Where a file goes; undefined for one that stays. */
export type Moved = (uri: string) => string | undefined;

/** Edits that keep a note's links leading to the same files while files, the note perhaps among them, are moved. */
export function movedLinks(note: Note, uri: string, moved: Moved): readonly TextEdit[] {
  const home = moved(uri) ?? uri;
  return documentLinks(note).flatMap((link): TextEdit[] => {
    if (link.target.kind !== "file") return [];
    const target = resolved(link.target.path, uri);
    if (target === undefined) return [];
    const goal = moved(target) ?? target;
    if (goal === target && home === uri) return [];
    const path = pathBetween(home, goal);
    if (path === undefined || path === plainPath(link.target.path)) return [];
    return [{ range: link.range, text: written(note, link, path) }];
  });
}

const plainPath = (path: string): string => path.replaceAll("\\", "/").replace(/^(?:\.\/)+/, "");

function resolved(path: string, uri: string): string | undefined {
  try {
    return new URL(path.replaceAll("\\", "/").split("/").map(encodeURIComponent).join("/"), uri).href;
  } catch {
    return undefined;
  }
}

/** The way from a note to a file, with forward slashes; undefined where none leads there. */
function pathBetween(from: string, to: string): string | undefined {
  const start = new URL(from);
  const goal = new URL(to);
  if (start.protocol !== goal.protocol || start.host !== goal.host) return undefined;
  const folders = start.pathname.split("/").slice(0, -1);
  const parts = goal.pathname.split("/");
  let common = 0;
  while (common < folders.length && common < parts.length - 1 && folders[common] === parts[common]) common++;
  const up = folders.slice(common).map(() => "..");
  return [...up, ...parts.slice(common)].map(decodeURIComponent).join("/");
}

/** The path as it is written where the old one stands. */
function written(note: Note, { range, form }: DocumentLink, path: string): string {
  const old = note.text.slice(range.from, range.to);
  if (form === "plain") return path;
  if (form === "yaml") {
    const quote = /^["']/.exec(old)?.[0] ?? (/[\s,[\]{}#:&*!|>'"%@`]/.test(path) ? '"' : "");
    return quote + path + quote;
  }
  const behind = /[?#].*$/.exec(old.replace(/>$/, ""))?.[0] ?? "";
  if (old.startsWith("<")) return `<${path}${behind}>`;
  return (
    path
      .split("/")
      .map(encodeURIComponent)
      .join("/")
      .replace(/[()]/g, (c) => (c === "(" ? "%28" : "%29")) + behind
  );
}
