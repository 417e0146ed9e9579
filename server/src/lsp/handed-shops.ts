import type { Surroundings } from "../check/analyze.ts";
import { readShop } from "../check/read-shop.ts";
import type { Libraries } from "../host/libraries.ts";
import { type LogFiles, NO_LOG_FILES } from "../ide/completion/place.ts";
import type { Note } from "../note/note.ts";
import { noShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import type { Files, ShopFile } from "./files.ts";
import type { OpenShops } from "./open-shops.ts";
import type { ShopParams } from "./own-messages.ts";

/**
 * Files round the notes where the server cannot look for itself: the client hands in the shop file that goes
 * with a folder. For everything else it asks the files of the disk, where there is one.
 */
export class HandedShops implements Files {
  readonly #byFolder = new Map<string, ShopFile | undefined>();
  #replaced: ShopFile[] = [];
  #edited: ShopFile | undefined;
  #none: Shop | undefined;

  constructor(
    private readonly libraries: Libraries,
    private readonly open: OpenShops,
    private readonly disk?: Files,
  ) {}

  /** From now on this shop file goes with the notes of this folder; null: none does. */
  hand({ folder, shop }: ShopParams): void {
    const key = withSlash(folder);
    const before = this.#byFolder.get(key);
    // What is told twice changes nothing.
    if (before && before.uri === shop?.uri && before.text === shop.text) return;
    if (before) this.#replaced.push(before);
    this.#byFolder.set(key, shop ? this.#read(shop) : undefined);
  }

  shopFile(uri: string): ShopFile | undefined {
    const folder = uri.slice(0, uri.lastIndexOf("/") + 1);
    if (!this.#byFolder.has(folder)) return this.disk?.shopFile(uri);
    const handed = this.#byFolder.get(folder);
    return handed && this.#asOpen(handed);
  }

  shopAt(uri: string): ShopFile | undefined {
    for (const handed of this.#byFolder.values()) if (handed?.uri === uri) return this.#asOpen(handed);
    return this.disk?.shopAt(uri);
  }

  /** A shop file that was handed in, as it stands in the editor meanwhile. */
  #asOpen(handed: ShopFile): ShopFile {
    const open = this.open.all().find(({ uri }) => uri === handed.uri);
    if (!open || open.text === handed.text) return handed;
    if (this.#edited?.uri !== open.uri || this.#edited.text !== open.text) this.#edited = this.#read(open);
    return this.#edited;
  }

  #read({ uri, text }: { readonly uri: string; readonly text: string }): ShopFile {
    return {
      uri,
      text,
      shop: readShop(text, this.libraries.yaml, this.libraries.procedures()),
      stamp: "",
    };
  }

  get noShop(): Shop {
    this.#none ??= this.disk?.noShop ?? noShop(this.libraries.procedures());
    return this.#none;
  }

  surroundings(uri: string, note: Note): Surroundings {
    return this.disk?.surroundings(uri, note) ?? {};
  }

  logFiles(uri: string): LogFiles {
    return this.disk?.logFiles(uri) ?? NO_LOG_FILES;
  }

  lookAgain(): ShopFile[] {
    const replaced = this.#replaced;
    this.#replaced = [];
    return [...replaced, ...(this.disk?.lookAgain() ?? [])];
  }

  markdownIn(folders: readonly string[]): readonly string[] {
    return this.disk?.markdownIn(folders) ?? [];
  }

  reads(uri: string): boolean {
    return this.disk?.reads(uri) ?? false;
  }

  stamp(uri: string): string {
    return this.disk?.stamp(uri) ?? "";
  }

  text(uri: string): string | undefined {
    return this.disk?.text(uri);
  }
}

const withSlash = (folder: string): string => folder.replace(/\/?$/, "/");
