import type { SyntaxNodeRef } from "@lezer/common";
import type { Fence } from "./fences.ts";
import { type MarkdownMemo, markdownTree, parseable } from "./markdown-tree.ts";
import type { ProseLink } from "./note.ts";

/** Links and pictures of the prose, with exact ranges of their targets. */
export function findLinks(
  text: string,
  body: number,
  fences: readonly Fence[],
  memo?: MarkdownMemo,
): readonly ProseLink[] {
  return mayLink(text, body, fences) ? linksIn(text, body, memo) : [];
}

/** What must be in the prose for it to hold a link at all; spares most notes the parser. */
function mayLink(text: string, body: number, fences: readonly Fence[]): boolean {
  return outsideFences(text, "](", body, fences) || outsideFences(text, "]:", body, fences);
}

function outsideFences(text: string, mark: string, body: number, fences: readonly Fence[]): boolean {
  let next = 0;
  for (let at = text.indexOf(mark, body); at >= 0; at = text.indexOf(mark, at + 1)) {
    while ((fences[next]?.to ?? at + 1) <= at) next++;
    const fence = fences[next];
    if (fence === undefined || at < fence.from) return true;
    at = fence.to - 1;
  }
  return false;
}

function linksIn(text: string, body: number, memo?: MarkdownMemo): ProseLink[] {
  const links: ProseLink[] = [];
  visitTargets(text, body, memo, (node) => {
    const inside = textInside(text, body, node);
    if (!inside) links.push(...linkAt(text, body, node));
    // Looked into once: what is nested deeper nobody wrote by hand.
    else
      visitTargets(inside.text, inside.from, undefined, (n) =>
        links.push(...linkAt(inside.text, inside.from, n)),
      );
  });
  return links;
}

function visitTargets(
  text: string,
  body: number,
  memo: MarkdownMemo | undefined,
  visit: (node: SyntaxNodeRef) => void,
): void {
  markdownTree(parseable(text.slice(body)), memo).iterate({
    enter: (node) => {
      if (node.name === "FencedCode") return false;
      if (node.name === "URL") visit(node);
      return undefined;
    },
  });
}

/** Text that the parser takes for a target, but that is prose with links of its own. */
function textInside(
  text: string,
  body: number,
  { node, from, to }: SyntaxNodeRef,
): { text: string; from: number } | undefined {
  const { parent } = node;
  if (!parent) return undefined;
  // `[^1]: text` is a footnote.
  if (parent.name === "LinkReference" && text.startsWith("[^", body + parent.from)) {
    return { text: text.slice(0, body + to), from: body + from };
  }
  // CommonMark lets no lone bracket into a bare target: the link before it is half typed, and this is the next one.
  const written = text.slice(body + from, body + to);
  if (!written.startsWith("<") && !bracketsMatch(written)) {
    return { text: text.slice(0, body + parent.to), from: body + from };
  }
  return undefined;
}

function linkAt(text: string, body: number, node: SyntaxNodeRef): readonly ProseLink[] {
  const parent = node.node.parent;
  if (!parent || parent.name === "Autolink") return [];
  const from = body + node.from;
  const to = body + node.to;
  const written = text.slice(from, to);
  const angled = written.startsWith("<") && written.endsWith(">");
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
