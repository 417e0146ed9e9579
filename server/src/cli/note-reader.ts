import { dirname, relative, sep } from "node:path";
import type { Analysis } from "../analysis/analysis.ts";
import { analyze } from "../check/analyze.ts";
import { readShop } from "../check/read-shop.ts";
import { shopFindings } from "../check/shop-findings.ts";
import type { Libraries } from "../host/libraries.ts";
import { fromDisk, type NoteSource } from "../host/note-source.ts";
import { surroundingsOf } from "../host/surroundings.ts";
import { LineMemo } from "../note/line-memo.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import type { Checked } from "../report/checked.ts";
import { harmless } from "../report/display-width.ts";
import { noShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import { indexLines } from "../text/line-index.ts";

/** A note, checked, with the shop file that went with it. */
export interface CheckedNote extends Checked {
  readonly analysis: Analysis;
  readonly shop: Shop;
  readonly shopPath?: string;
}

/** What came of a file: the checked note, or why there is none. */
export type NoteRead =
  | { readonly kind: "note"; readonly note: CheckedNote }
  /** `unreadable` is what is wrong with it; of interest only where it was asked for by name. */
  | { readonly kind: "no job"; readonly unreadable?: string }
  /** Why the file could not be checked, as a clause that follows its name. */
  | { readonly kind: "failure"; readonly reason: string };

export interface ShopRead {
  readonly shop: Shop;
  /** Undefined where nothing is wrong with the file. */
  readonly checked?: Checked;
  readonly failure?: string;
}

const SHARE_LINES_AMONG = 200;

/** Reads and checks one note after the other; keeps little but the shop files it has read. */
export class NoteReader {
  readonly #folder: string;
  readonly #libraries: Libraries;
  readonly #source: NoteSource;
  readonly #shops = new Map<string, ShopRead>();
  #none: Shop | undefined;
  #memo = new LineMemo("many notes");
  #read = 0;

  /** Paths are shown as seen from `folder`. */
  constructor(folder: string, libraries: Libraries, source: NoteSource = fromDisk(libraries)) {
    this.#folder = folder;
    this.#libraries = libraries;
    this.#source = source;
  }

  /** Made with the first note that needs it, since it takes the procedures to be loaded. */
  get #noShop(): Shop {
    this.#none ??= noShop(this.#libraries.procedures());
    return this.#none;
  }

  note(path: string): NoteRead {
    try {
      return this.#note(path);
    } catch (fault) {
      return { kind: "failure", reason: ownFault(fault) };
    }
  }

  #note(path: string): NoteRead {
    const reading = this.#source.read(path);
    const text = reading.ok ? reading.text : reading.head;
    if (text === undefined) return { kind: "failure", reason: reading.ok ? "" : reading.reason };
    // Notes of one shop share many lines. The memo is renewed now and then, so that it stays small.
    if (this.#read++ % SHARE_LINES_AMONG === 0) this.#memo = new LineMemo("many notes");
    const note = readNote(text, this.#libraries.yaml, this.#memo);
    if (!isJobNote(note)) return { kind: "no job", ...(reading.ok ? {} : { unreadable: reading.reason }) };
    if (!reading.ok) return { kind: "failure", reason: reading.reason };
    const folder = dirname(path);
    const shopPath = this.#source.shopFor(folder);
    const shop = shopPath === undefined ? this.#noShop : this.#shop(shopPath).shop;
    const root = shopPath === undefined ? folder : dirname(shopPath);
    const surroundings = surroundingsOf(
      note,
      folder,
      (request) => this.#source.log(request, folder, root),
      (file) => this.#source.exists(file),
    );
    const analysis = analyze(note, shop, surroundings);
    const { lines } = note;
    const { findings } = analysis;
    const found = { path: shownPath(path, this.#folder), text, lines, findings, analysis, shop };
    return { kind: "note", note: shopPath === undefined ? found : { ...found, shopPath } };
  }

  /** The shop file itself. */
  shop(path: string): ShopRead {
    try {
      return this.#shop(path);
    } catch (fault) {
      return { shop: this.#noShop, failure: ownFault(fault) };
    }
  }

  #shop(path: string): ShopRead {
    const known = this.#shops.get(path);
    if (known !== undefined) return known;
    const made = this.#readShop(path);
    this.#shops.set(path, made);
    return made;
  }

  #readShop(path: string): ShopRead {
    const reading = this.#source.read(path);
    if (!reading.ok) return { shop: this.#noShop, failure: reading.reason };
    const { text } = reading;
    const shop = readShop(text, this.#libraries.yaml, this.#libraries.procedures());
    const findings = shopFindings(shop);
    if (findings.length === 0) return { shop };
    return {
      shop,
      checked: { path: shownPath(path, this.#folder), text, lines: indexLines(text), findings },
    };
  }
}

/** With forward slashes on every system, so that a result can be compared with one made elsewhere. */
export function shownPath(path: string, folder: string): string {
  const way = relative(folder, path);
  return sep === "/" ? way : way.split(sep).join("/");
}

/** What to say when the checker itself is at fault: a sentence instead of a stack trace. */
export function ownFault(fault: unknown): string {
  const message = harmless(fault instanceof Error ? fault.message : String(fault));
  return `could not be checked because of a fault in Witness Mark itself (${message}). The note is not to blame; please report this together with the note`;
}
