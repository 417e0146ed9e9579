import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Analysis } from "../analysis/analysis.ts";
import { EvaluationMemo } from "../analysis/evaluation-memo.ts";
import { analyze } from "../check/analyze.ts";
import type { Libraries } from "../host/libraries.ts";
import type { LogFiles } from "../ide/completion/place.ts";
import { LineMemo } from "../note/line-memo.ts";
import { MAX_BYTES } from "../note/longest.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import type { Shop } from "../shop/shop.ts";
import type { Files, ShopFile } from "./files.ts";
import type { Target } from "./to-protocol.ts";

/** An open note, read and checked. Never changes; the next version of the text gets a new one. */
export interface CheckedNote {
  readonly target: Target;
  readonly analysis: Analysis;
  readonly shop: Shop;
}

/** What came of looking at an open text. */
export type Outcome =
  | { readonly kind: "checked"; readonly checked: CheckedNote }
  /** Markdown that is no job note: left alone. */
  | { readonly kind: "other" }
  | { readonly kind: "too long" };

interface Remembered {
  readonly version: number;
  readonly round: number;
  readonly outcome: Outcome;
}

/** What earlier versions of a text left behind. It saves time and never changes an answer. */
interface Memory {
  readonly lines: LineMemo;
  readonly values: EvaluationMemo;
}

/**
 * The open texts and what is known of them. Each version of a text is worked out at most once, whoever asks
 * first: the diagnostics after a keystroke, or a request for hints that came along with it.
 */
export class Session {
  readonly #memories = new Map<string, Memory>();
  readonly #remembered = new Map<string, Remembered>();
  /** Goes up when the files round the notes change. */
  #round = 0;

  /** `onShop` is called with each shop file that is read, so that its own findings can be shown. */
  constructor(
    private readonly texts: { get(uri: string): TextDocument | undefined },
    private readonly libraries: Libraries,
    private readonly files: Files,
    private readonly onShop: (file: ShopFile) => void,
  ) {}

  /** A text was opened or closed, and what was known of it no longer counts. */
  forget(uri: string): void {
    this.#memories.delete(uri);
    this.#remembered.delete(uri);
  }

  /** Looks at the disk again at the next question. Gives back the shop files that have changed. */
  filesChanged(): ShopFile[] {
    this.#round++;
    return this.files.lookAgain();
  }

  /** Tells one look at the files from the next. */
  get round(): number {
    return this.#round;
  }

  /** The shop file that goes with a note. */
  shopFile(uri: string): ShopFile | undefined {
    return this.files.shopFile(uri);
  }

  shopAt(uri: string): ShopFile | undefined {
    return this.files.shopAt(uri);
  }

  /** The logs beside a note. */
  logFiles(uri: string): LogFiles {
    return this.files.logFiles(uri);
  }

  look(uri: string): Outcome | undefined {
    const text = this.texts.get(uri);
    if (!text) return undefined;
    const known = this.#remembered.get(uri);
    if (known && known.version === text.version && known.round === this.#round) return known.outcome;
    // Let go before the new one is made: what is no longer needed need not be kept apart from it.
    this.#remembered.delete(uri);
    const outcome = this.#work(text);
    this.#remembered.set(uri, { version: text.version, round: this.#round, outcome });
    return outcome;
  }

  /** The checked note, for features that have nothing to say about other texts. */
  checked(uri: string): CheckedNote | undefined {
    const outcome = this.look(uri);
    return outcome?.kind === "checked" ? outcome.checked : undefined;
  }

  /** A note that is not open, checked once and not remembered. */
  read(uri: string, text: string): CheckedNote | undefined {
    const memory = { lines: new LineMemo(), values: new EvaluationMemo() };
    const outcome = this.#check(uri, 0, text, () => memory);
    return outcome.kind === "checked" ? outcome.checked : undefined;
  }

  #work(document: TextDocument): Outcome {
    const { uri, version } = document;
    return this.#check(uri, version, document.getText(), () => {
      const memory = this.#memories.get(uri) ?? { lines: new LineMemo(), values: new EvaluationMemo() };
      this.#memories.set(uri, memory);
      return memory;
    });
  }

  #check(uri: string, version: number, text: string, memoryOf: () => Memory): Outcome {
    // A job note opens with front matter; other markdown is not even read.
    if (!/^\uFEFF?---/.test(text)) return { kind: "other" };
    if (text.length > MAX_BYTES) return { kind: "too long" };
    const memory = memoryOf();
    const note = readNote(text, this.libraries.yaml, memory.lines);
    if (!isJobNote(note)) return { kind: "other" };
    const shop = this.#shopFor(uri);
    const surroundings = this.files.surroundings(uri, note);
    const analysis = analyze(note, shop, { ...surroundings, memo: memory.values });
    return { kind: "checked", checked: { target: { uri, version, lines: note.lines }, analysis, shop } };
  }

  readonly #shown = new WeakSet<ShopFile>();

  #shopFor(uri: string): Shop {
    const file = this.files.shopFile(uri);
    if (!file) return this.files.noShop;
    if (!this.#shown.has(file)) {
      this.#shown.add(file);
      this.onShop(file);
    }
    return file.shop;
  }
}
