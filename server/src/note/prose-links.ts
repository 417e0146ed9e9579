import { parser as markdown } from "@lezer/markdown";
import type { Fence } from "./fences.ts";
import type { ProseLink } from "./note.ts";

/** What must be in a text for it to hold a link at all; spares most notes the parser. */
const MAY_LINK = /\]\(|\]:[ \t]*\S|<[a-z][a-z0-9+.-]*:/i;

/** Links and pictures of the prose, with exact ranges of their targets. */
export function findLinks(text: string, body: number, fences: readonly Fence[]): readonly ProseLink[] {
  const prose = outsideFences(text, body, fences);
  if (!MAY_LINK.test(prose)) return [];
  const links: ProseLink[] = [];
  markdown.parse(prose).iterate({
    enter: (node) => {
      if (node.name !== "URL") return;
      const parent = node.node.parent?.name;
      if (parent === "Autolink") return;
      const from = body + node.from;
      const to = body + node.to;
      const written = text.slice(from, to);
      const target = written.startsWith("<") && written.endsWith(">") ? written.slice(1, -1) : written;
      links.push({ range: { from, to }, target: withoutEscapes(target), picture: parent === "Image" });
    },
  });
  return links;
}

/** The body with every fenced block blanked out at the same length, so that offsets stay true. */
function outsideFences(text: string, body: number, fences: readonly Fence[]): string {
  let prose = "";
  let at = body;
  for (const fence of fences) {
    prose += text.slice(at, fence.from) + text.slice(fence.from, fence.to).replace(/[^\n\r]/g, " ");
    at = fence.to;
  }
  return (prose + text.slice(at)).replace(/\r\n/g, " \n").replace(/\r/g, "\n");
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
