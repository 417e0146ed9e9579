import { tryFormula } from "../analysis/try-formula.ts";
import type { YamlReader } from "../note/yaml-tree.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { readShopFile } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";

/** Reads a shop file; its own formulas are tried as the notes would work them out. See `readShopFile`. */
export const readShop = (text: string, yaml: YamlReader, builtIn: readonly Procedure[]): Shop =>
  readShopFile(text, yaml, builtIn, tryFormula);
