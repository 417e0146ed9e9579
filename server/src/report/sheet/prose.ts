import type { Element, RootContent } from "hast";
import type { Root } from "mdast";
import rehypeSanitize, { defaultSchema } from "rehype-sanitize";
import rehypeStringify from "rehype-stringify";
import remarkFrontmatter from "remark-frontmatter";
import remarkGfm from "remark-gfm";
import remarkParse from "remark-parse";
import remarkRehype from "remark-rehype";
import { unified } from "unified";
import type { Analysis } from "../../analysis/analysis.ts";
import type { Note } from "../../note/note.ts";
import { lineAt } from "../../text/line-index.ts";
import { blockSheet } from "./block-sheet.ts";
import { Html } from "./html.ts";

/** A picture as a `data:` address; undefined where it cannot or may not be put into the page. */
export type Embed = (target: string) => string | undefined;
/** Where a link to another file leads from the page; undefined where that file is not at hand there. */
export type Follow = (target: string) => string | undefined;

const NOWHERE: Follow = () => undefined;

const PLACE = "dataWmBlock";

/** What a note may hold besides text; everything else is taken out, and so is all HTML that it brings along. */
const ALLOWED = {
  ...defaultSchema,
  attributes: { ...defaultSchema.attributes, div: [...(defaultSchema.attributes?.div ?? []), PLACE] },
};

const parse = unified().use(remarkParse).use(remarkGfm).use(remarkFrontmatter).freeze();
const toPage = unified().use(remarkRehype).use(rehypeSanitize, ALLOWED).freeze();
const write = unified().use(rehypeStringify).freeze();

/** The note's prose as HTML, its blocks as tables, timelines and plots, and its pictures inside the page. */
export function noteBody(analysis: Analysis, embed: Embed, follow: Follow = NOWHERE): Html {
  const { note } = analysis;
  const tree = markedTree(note);
  const page = toPage.runSync(tree);
  settle(page, embed, follow);
  // HTML of the note's own is gone by now, so only our own marks have this form.
  const body = write.stringify(page).replace(/<div data-wm-block="(\d+)"><\/div>/g, (_, index: string) => {
    const block = note.blocks[Number(index)];
    return block ? `<div class="wm-sheet">${blockSheet(analysis, block)}</div>` : "";
  });
  return new Html(body);
}

/**
 * The note's markdown with a mark in the place of each block of ours. The lines inside the blocks are read
 * already, so they are left out before the parsing, which takes the most time of all: what stands in a fence
 * means nothing to markdown. Should a block not be found again, all is parsed as it stands.
 */
function markedTree(note: Note): Root {
  const starts = note.blocks.map((block) => lineAt(note.lines, block.range.from));
  const { text, left } = withoutBlocks(note);
  const short = parse.parse(text);
  if (markBlocks(short, new Map(starts.map((line, i) => [left(line), i]))) === starts.length) return short;
  const whole = parse.parse(note.text);
  markBlocks(whole, new Map(starts.map((line, i) => [line, i])));
  return whole;
}

/** The text without what stands in the blocks; `left` gives the number there of a line that was kept. */
function withoutBlocks({ text, lines, blocks }: Note): { text: string; left: (line: number) => number } {
  const before: { readonly line: number; readonly dropped: number }[] = [];
  let kept = "";
  let from = 0;
  let dropped = 0;
  for (const block of blocks) {
    const [first] = block.lines;
    const last = block.lines[block.lines.length - 1];
    if (first === undefined || last === undefined) continue;
    kept += text.slice(from, lines.starts[first.line]);
    from = lines.starts[last.line + 1] ?? lines.end;
    dropped += last.line + 1 - first.line;
    before.push({ line: last.line, dropped });
  }
  const left = (line: number): number => line - (before.findLast((cut) => cut.line < line)?.dropped ?? 0);
  return { text: kept + text.slice(from), left };
}

type MarkdownNode = Root["children"][number];

/** Puts a mark in the place of each block of ours, wherever it stands, and tells how many it found. */
function markBlocks(tree: { children: MarkdownNode[] }, byLine: ReadonlyMap<number, number>): number {
  let found = 0;
  tree.children.forEach((node, at) => {
    if (node.type === "code") {
      const index = byLine.get((node.position?.start.line ?? 0) - 1);
      if (index === undefined) return;
      found++;
      tree.children[at] = {
        type: "paragraph",
        children: [],
        data: { hName: "div", hProperties: { [PLACE]: String(index) } },
      };
    } else if ("children" in node) found += markBlocks(node as { children: MarkdownNode[] }, byLine);
  });
  return found;
}

/** Pictures go into the page, and links that would lead nowhere from a page by itself become plain text. */
function settle(tree: { children: RootContent[] }, embed: Embed, follow: Follow): void {
  tree.children = tree.children.map((node) => {
    if (node.type !== "element") return node;
    settle(node, embed, follow);
    if (node.tagName === "img") return picture(node, embed);
    if (node.tagName === "a") return link(node, follow);
    return node;
  });
}

function link(node: Element, follow: Follow): Element {
  const target = String(node.properties.href ?? "");
  if (/^(?:https?:|mailto:|#)/i.test(target)) return node;
  const href = follow(target);
  if (href !== undefined) return { ...node, properties: { href } };
  return { ...node, tagName: "span", properties: {} };
}

function picture(node: Element, embed: Embed): Element {
  const target = String(node.properties.src ?? "");
  const says = String(node.properties.alt ?? "");
  const src = embed(target);
  if (src !== undefined) return { ...node, properties: { src, alt: says } };
  const text = `[picture: ${says === "" ? target : says}]`;
  return { type: "element", tagName: "em", properties: {}, children: [{ type: "text", value: text }] };
}
