import type { SyntaxNodeRef } from "@lezer/common";
import type { Fence } from "./fences.ts";
import { type MarkdownMemo, markdownTree, withLineFeeds } from "./markdown-tree.ts";
import type { ProseLink } from "./note.ts";

/** What must be in a text for it to hold a link at all; spares most notes the parser. */
const MAY_LINK = /\]\(|\]:\s*\S/;

/** Links and pictures of the prose, with exact ranges of their targets. */
export function findLinks(
  text: string,
  body: number,
  fences: readonly Fence[],
  memo?: MarkdownMemo,
): readonly ProseLink[] {
  return mayLink(text, body, fences) ? linksIn(text, body, memo) : [];
}

function mayLink(text: string, body: number, fences: readonly Fence[]): boolean {
  let at = body;
  for (const fence of fences) {
    if (MAY_LINK.test(text.slice(at, fence.from))) return true;
    at = fence.to;
  }
  return MAY_LINK.test(text.slice(at));
}

function linksIn(text: string, body: number, memo?: MarkdownMemo): ProseLink[] {
  const links: ProseLink[] = [];
  markdownTree(withLineFeeds(text.slice(body)), memo).iterate({
    enter: (node) => {
      if (node.name === "FencedCode") return false;
      if (node.name === "URL") links.push(...linksAt(text, body, node));
      return undefined;
    },
  });
  return links;
}

function linksAt(text: string, body: number, node: SyntaxNodeRef): readonly ProseLink[] {
  const parent = node.node.parent;
  if (!parent || parent.name === "Autolink") return [];
  const from = body + node.from;
  const to = body + node.to;
  // `[^1]: text` is a footnote, whose text may hold links of its own.
  if (parent.name === "LinkReference" && text.startsWith("[^", body + parent.from)) {
    return linksIn(text.slice(0, to), from);
  }
  const written = text.slice(from, to);
  const angled = written.startsWith("<") && written.endsWith(">");
  // CommonMark lets no lone bracket into a bare target: the link before it is half typed, and this is the next one.
  if (!angled && !bracketsMatch(written)) return linksIn(text.slice(0, body + parent.to), from);
  const target = angled ? written.slice(1, -1) : written;
  return [{ range: { from, to }, target: withoutEscapes(target), picture: parent.name === "Image" }];
}

function bracketsMatch(target: string): boolean {
  let open = 0;
  for (const [character] of target.replace(/\\./g, "").matchAll(/[()]/g)) {
    open += character === "(" ? 1 : -1;
    if (open < 0) return false;
  }
  return open === 0;
}

/** Backslash escapes of CommonMark stand for the character behind them. */
const withoutEscapes = (target: string): string => target.replace(/\\([!-/:-@[-`{-~])/g, "$1");

/**
 * The part of a link's target that names a file beside the note; undefined for web addresses, anchors and
 * other schemes. `%20` and its like are read as the characters they stand for.
 */
export function filePartOf(target: string): string | undefined {
  if (/^[a-z][a-z0-9+.-]+:/i.test(target) || target.startsWith("//") || target.startsWith("#"))
    return undefined;
  const path = target.split(/[?#]/)[0] ?? "";
  if (path === "") return undefined;
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
}
