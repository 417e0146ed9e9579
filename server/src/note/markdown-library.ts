/** The CommonMark parser as a bundle of its own; see `host/lazy-markdown.ts`. */
export { TreeFragment } from "@lezer/common";
export { parser } from "@lezer/markdown";
