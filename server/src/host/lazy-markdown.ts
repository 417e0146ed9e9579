import type { MarkdownParser } from "@lezer/markdown";

/**
 * Stands in the bundles for the CommonMark parser, which is loaded when the first note needs it: most notes
 * have their fences at the margin and no links, and then a plain scan does.
 */
export const parser: Pick<MarkdownParser, "parse"> = {
  parse: (...given) => {
    library ??= loadLibrary();
    return library.parse(...given);
  },
};

let library: MarkdownParser | undefined;

function loadLibrary(): MarkdownParser {
  const loaded: typeof import("../note/markdown-library.ts") = require("./markdown.js");
  return loaded.parser;
}
