/** The CommonMark parser as a bundle of its own; see `host/lazy-markdown.ts`. */
export { parser } from "@lezer/markdown";
