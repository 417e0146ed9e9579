import type { Surroundings } from "../check/analyze.ts";
import type { Libraries } from "../host/libraries.ts";
import type { Note } from "../note/note.ts";
import { noShop, readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import type { Files, ShopFile } from "./files.ts";
import type { ShopParams } from "./own-messages.ts";

/**
 * Files round the notes where the server cannot look for itself: the client hands in the shop file that goes
 * with a folder. For everything else it asks the files of the disk, where there is one.
 */
export class HandedShops implements Files {
  readonly #byFolder = new Map<string, ShopFile | undefined>();
  #replaced: ShopFile[] = [];
  #none: Shop | undefined;

  constructor(
    private readonly libraries: Libraries,
    private readonly disk?: Files,
  ) {}

  /** From now on this shop file goes with the notes of this folder; null: none does. */
  hand({ folder, shop }: ShopParams): void {
    const key = withSlash(folder);
    const before = this.#byFolder.get(key);
    if (before) this.#replaced.push(before);
    this.#byFolder.set(
      key,
      shop
        ? {
            uri: shop.uri,
            text: shop.text,
            shop: readShop(shop.text, this.libraries.yaml, this.libraries.procedures()),
            stamp: "",
          }
        : undefined,
    );
  }

  shopFile(uri: string): ShopFile | undefined {
    const folder = uri.slice(0, uri.lastIndexOf("/") + 1);
    return this.#byFolder.has(folder) ? this.#byFolder.get(folder) : this.disk?.shopFile(uri);
  }

  get noShop(): Shop {
    this.#none ??= this.disk?.noShop ?? noShop(this.libraries.procedures());
    return this.#none;
  }

  surroundings(uri: string, note: Note): Surroundings {
    return this.disk?.surroundings(uri, note) ?? {};
  }

  lookAgain(): ShopFile[] {
    const replaced = this.#replaced;
    this.#replaced = [];
    return [...replaced, ...(this.disk?.lookAgain() ?? [])];
  }

  markdownIn(folders: readonly string[]): readonly string[] {
    return this.disk?.markdownIn(folders) ?? [];
  }

  stamp(uri: string): string {
    return this.disk?.stamp(uri) ?? "";
  }

  text(uri: string): string | undefined {
    return this.disk?.text(uri);
  }
}

const withSlash = (folder: string): string => folder.replace(/\/?$/, "/");
