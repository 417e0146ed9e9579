import type { YamlReader } from "../note/yaml-tree.ts";

/**
 * The full YAML library, loaded when the first text needs it. It is a bundle of its own beside the one that
 * runs, since most notes never need it and it would slow every start.
 */
export const lazyYaml: YamlReader = (text, offset) => {
  library ??= loadLibrary();
  return library(text, offset);
};

let library: YamlReader | undefined;

function loadLibrary(): YamlReader {
  try {
    const loaded: typeof import("../note/yaml-library.ts") = require("./yaml.js");
    return loaded.readYaml;
  } catch {
    return (text, offset) => ({
      tree: undefined,
      problems: [
        {
          range: { from: offset, to: offset + text.length },
          message: "This YAML could not be looked at, since a part of the checker is missing.",
          advice: "Install the checker again, or write the front matter as plain `key: value` lines.",
        },
      ],
    });
  }
}
