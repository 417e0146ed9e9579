import { dirname, relative, sep } from "node:path";
import { analyze } from "../check/analyze.ts";
import type { Libraries } from "../host/libraries.ts";
import { ShopFinder } from "../host/nearest-shop.ts";
import { readText } from "../host/read-text.ts";
import { surroundingsOf } from "../host/surroundings.ts";
import { isJobNote, LineMemo, readNote } from "../note/read-note.ts";
import { addTo, NOTHING, type Totals } from "../report/checked.ts";
import { harmless } from "../report/display-width.ts";
import { noShop, readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import { shopFindings } from "../shop/shop-findings.ts";
import { indexLines } from "../text/line-index.ts";
import { type ReportForm, writerFor } from "./report-form.ts";

/** What came of one file. Plain data, since it may come from another thread. */
export interface FileOutcome {
  /** The result, written in the form asked for. */
  readonly written?: string;
  readonly totals?: Totals;
  /** Path of the shop file that the note was checked with. */
  readonly shop?: string;
  /** Why the file could not be checked, as a clause that follows its name. */
  readonly failure?: string;
  /** Markdown that is no job note. */
  readonly noJob?: true;
  /** What is wrong with markdown that is no job note; of interest only where it was asked for by name. */
  readonly unreadable?: string;
}

const SHARE_LINES_AMONG = 200;

/** Checks one file after the other and writes down the results; keeps little but the shop files it has read. */
export class FileChecker {
  readonly #folder: string;
  readonly #libraries: Libraries;
  readonly #write: ReturnType<typeof writerFor>;
  readonly #finder = new ShopFinder();
  readonly #shops = new Map<string, { readonly shop: Shop; readonly outcome: FileOutcome }>();
  readonly #noShop: Shop;
  #memo = new LineMemo();
  #read = 0;

  /** Paths are shown as seen from `folder`. */
  constructor(folder: string, form: ReportForm, libraries: Libraries) {
    this.#folder = folder;
    this.#libraries = libraries;
    this.#noShop = noShop(libraries.procedures());
    this.#write = writerFor(form);
  }

  note(path: string): FileOutcome {
    try {
      return this.#note(path);
    } catch (fault) {
      return { failure: ownFault(fault) };
    }
  }

  #note(path: string): FileOutcome {
    const reading = readText(path);
    const text = reading.ok ? reading.text : reading.head;
    if (text === undefined) return { failure: reading.ok ? "" : reading.reason };
    // Notes of one shop share many lines. The memo is renewed now and then, so that it stays small.
    if (this.#read++ % SHARE_LINES_AMONG === 0) this.#memo = new LineMemo();
    const note = readNote(text, this.#libraries.yaml, this.#memo);
    if (!isJobNote(note)) return { noJob: true, ...(reading.ok ? {} : { unreadable: reading.reason }) };
    if (!reading.ok) return { failure: reading.reason };
    const folder = dirname(path);
    const shop = this.#finder.find(folder);
    const analysis = analyze(
      note,
      shop === undefined ? this.#noShop : this.#shop(shop).shop,
      surroundingsOf(note, folder, (request) =>
        this.#libraries.logs(request, folder, shop === undefined ? folder : dirname(shop)),
      ),
    );
    const checked = {
      path: shownPath(path, this.#folder),
      text,
      lines: note.lines,
      findings: analysis.findings,
      analysis,
    };
    return {
      written: this.#write(checked),
      totals: addTo(NOTHING, checked),
      ...(shop === undefined ? {} : { shop }),
    };
  }

  /** What came of the shop file itself; nothing is written where nothing is wrong with it. */
  shop(path: string): FileOutcome {
    try {
      return this.#shop(path).outcome;
    } catch (fault) {
      return { failure: ownFault(fault) };
    }
  }

  #shop(path: string): { readonly shop: Shop; readonly outcome: FileOutcome } {
    const known = this.#shops.get(path);
    if (known !== undefined) return known;
    const made = this.#readShop(path);
    this.#shops.set(path, made);
    return made;
  }

  #readShop(path: string): { readonly shop: Shop; readonly outcome: FileOutcome } {
    const reading = readText(path);
    if (!reading.ok) return { shop: this.#noShop, outcome: { failure: reading.reason } };
    const { text } = reading;
    const shop = readShop(text, this.#libraries.yaml, this.#libraries.procedures());
    const findings = shopFindings(shop);
    if (findings.length === 0) return { shop, outcome: {} };
    const checked = { path: shownPath(path, this.#folder), text, lines: indexLines(text), findings };
    return { shop, outcome: { written: this.#write(checked), totals: addTo(NOTHING, checked) } };
  }
}

/** With forward slashes on every system, so that a result can be compared with one made elsewhere. */
export function shownPath(path: string, folder: string): string {
  const way = relative(folder, path);
  return sep === "/" ? way : way.split(sep).join("/");
}

/** What to say when the checker itself is at fault: a sentence instead of a stack trace. */
function ownFault(fault: unknown): string {
  const message = harmless(fault instanceof Error ? fault.message : String(fault));
  return `could not be checked because of a fault in Witness Mark itself (${message}). The note is not to blame; please report this together with the note`;
}
