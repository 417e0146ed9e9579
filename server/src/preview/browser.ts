import type MarkdownIt from "markdown-it";
import { readYaml } from "../note/yaml-library.ts";
import { builtInProcedures } from "../procedures/load.ts";
import { extendPreview, type PreviewHost } from "./preview.ts";
import { ShopsByText } from "./shops.ts";

export type { PreviewHost } from "./preview.ts";

/** The preview where there is no disk: shop files come from the editor, and linked files are not looked for. */
export function extend(md: MarkdownIt, host: PreviewHost): MarkdownIt {
  const shops = new ShopsByText(readYaml, () => builtInProcedures);
  const files = {
    shop: (uri: string | undefined) => shops.read(uri === undefined ? undefined : host.shopText(uri)),
    surroundings: () => ({}),
  };
  return extendPreview(md, readYaml, files, host);
}
