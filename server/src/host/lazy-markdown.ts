import type { TreeFragment as Fragment } from "@lezer/common";
import type { MarkdownParser } from "@lezer/markdown";

/**
 * Stands in the bundles for the CommonMark parser, which is loaded when the first note needs it: most notes
 * have their fences at the margin and no links, and then a plain scan does.
 */
export const parser: Pick<MarkdownParser, "parse"> = {
  parse: (...given) => {
    return library().parser.parse(...given);
  },
};

/** What is left of an earlier tree, for parsing only what an edit touched. */
export const TreeFragment: Pick<typeof Fragment, "addTree" | "applyChanges"> = {
  addTree: (...given) => library().TreeFragment.addTree(...given),
  applyChanges: (...given) => library().TreeFragment.applyChanges(...given),
};

type Library = typeof import("../note/markdown-library.ts");
let loaded: Library | undefined;

function library(): Library {
  loaded ??= require("./markdown.js") as Library;
  return loaded;
}
