import type MarkdownIt from "markdown-it";
import { lazyLibraries } from "../host/libraries.ts";
import { Workspace } from "../lsp/workspace.ts";
import { extendPreview, type PreviewFiles, type PreviewHost } from "./preview.ts";
import { ShopsByText } from "./shops.ts";

export type { PreviewHost } from "./preview.ts";

/** The preview as a bundle of its own, which the extension loads when somebody first opens a preview. */
export function extend(md: MarkdownIt, host: PreviewHost): MarkdownIt {
  const workspace = new Workspace(lazyLibraries, { all: () => host.openShops() });
  const shops = new ShopsByText(lazyLibraries.yaml, lazyLibraries.procedures);
  const files: PreviewFiles = {
    shop(uri) {
      if (uri === undefined) return shops.read(undefined);
      if (!uri.startsWith("file:")) return shops.read(host.shopText(uri));
      workspace.lookAgain();
      return workspace.shopFile(uri)?.shop ?? workspace.noShop;
    },
    surroundings: (uri, note) => (uri === undefined ? {} : workspace.surroundings(uri, note)),
  };
  return extendPreview(md, lazyLibraries.yaml, files, host);
}
