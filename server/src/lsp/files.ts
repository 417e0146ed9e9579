import type { Surroundings } from "../check/analyze.ts";
import type { LogFiles } from "../ide/completion/place.ts";
import type { Note } from "../note/note.ts";
import type { Shop } from "../shop/shop.ts";

/** A shop file as it was when it was read. */
export interface ShopFile {
  readonly uri: string;
  readonly text: string;
  readonly shop: Shop;
  readonly stamp: string;
}

/** The files round the open notes, as far as the server needs them. Handed in, since a browser has no disk. */
export interface Files {
  /** The nearest shop file; undefined where there is none or it cannot be read. */
  shopFile(uri: string): ShopFile | undefined;
  /** The shop file with this address, as the notes under it see it. */
  shopAt(uri: string): ShopFile | undefined;
  /** The shop of notes that have no shop file. */
  readonly noShop: Shop;
  surroundings(uri: string, note: Note): Surroundings;
  /** Looked at when somebody types the options of a series. */
  logFiles(uri: string): LogFiles;
  /** Forgets what may have changed. Gives back the shop files that have. */
  lookAgain(): ShopFile[];
  /** Addresses of all markdown files in these folders. */
  markdownIn(folders: readonly string[]): readonly string[];
  /** Whether files with such an address can be looked at here at all. */
  reads(uri: string): boolean;
  /** Tells one state of a file from the next; empty where it is gone. */
  stamp(uri: string): string;
  /** The text of a file; undefined where it cannot be read. */
  text(uri: string): string | undefined;
}
