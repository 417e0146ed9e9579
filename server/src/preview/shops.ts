import { readShop } from "../check/read-shop.ts";
import type { YamlReader } from "../note/yaml-tree.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { noShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";

/** Shop files by their text. The last one is kept, since every block of a page asks for the same. */
export class ShopsByText {
  #none: Shop | undefined;
  #last: { readonly text: string; readonly shop: Shop } | undefined;

  constructor(
    private readonly yaml: YamlReader,
    private readonly procedures: () => readonly Procedure[],
  ) {}

  read(text: string | undefined): Shop {
    if (text === undefined) {
      this.#none ??= noShop(this.procedures());
      return this.#none;
    }
    if (this.#last?.text !== text) this.#last = { text, shop: readShop(text, this.yaml, this.procedures()) };
    return this.#last.shop;
  }
}
