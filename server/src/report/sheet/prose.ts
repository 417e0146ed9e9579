import type { Element, Root as Page, RootContent } from "hast";
import type { Root } from "mdast";
import rehypeSanitize, { defaultSchema } from "rehype-sanitize";
import rehypeStringify from "rehype-stringify";
import remarkFrontmatter from "remark-frontmatter";
import remarkGfm from "remark-gfm";
import remarkParse from "remark-parse";
import remarkRehype from "remark-rehype";
import { unified } from "unified";
import type { Analysis } from "../../analysis/analysis.ts";
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

/** The note's prose as HTML, its blocks as tables, timelines and plots, and its pictures inside the page. */
export function noteBody(analysis: Analysis, embed: Embed, follow: Follow = NOWHERE): Html {
  const { note } = analysis;
  const byLine = new Map(note.blocks.map((block, i) => [lineAt(note.lines, block.range.from), i]));
  const page = unified()
    .use(remarkParse)
    .use(remarkGfm)
    .use(remarkFrontmatter)
    .use(() => (tree: Root) => markBlocks(tree, byLine))
    .use(remarkRehype)
    .use(rehypeSanitize, ALLOWED)
    .use(() => (tree: Page) => settle(tree, embed, follow))
    .use(rehypeStringify)
    .processSync(note.text)
    .toString();
  // HTML of the note's own is gone by now, so only our own marks have this form.
  const body = page.replace(/<div data-wm-block="(\d+)"><\/div>/g, (_, index: string) => {
    const block = note.blocks[Number(index)];
    return block ? `<div class="wm-sheet">${blockSheet(analysis, block)}</div>` : "";
  });
  return new Html(body);
}

type MarkdownNode = Root["children"][number];

/** Puts a mark in the place of each block of ours, wherever it stands. */
function markBlocks(tree: { children: MarkdownNode[] }, byLine: ReadonlyMap<number, number>): void {
  tree.children.forEach((node, at) => {
    if (node.type === "code") {
      const index = byLine.get((node.position?.start.line ?? 0) - 1);
      if (index === undefined) return;
      tree.children[at] = {
        type: "paragraph",
        children: [],
        data: { hName: "div", hProperties: { [PLACE]: String(index) } },
      };
    } else if ("children" in node) markBlocks(node as { children: MarkdownNode[] }, byLine);
  });
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
