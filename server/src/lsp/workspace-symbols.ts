import type { CancellationToken, SymbolInformation } from "vscode-languageserver/node";
import type { Libraries } from "../host/libraries.ts";
import { matches, symbolsOf } from "../ide/workspace-symbols.ts";
import { LineMemo } from "../note/line-memo.ts";
import type { Note } from "../note/note.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import type { Files } from "./files.ts";
import { nextTurn } from "./next-turn.ts";
import { SYMBOL_KINDS } from "./outline-to-protocol.ts";
import type { Session } from "./session.ts";
import { toRange } from "./to-protocol.ts";

/** More than anybody reads; the next letter typed narrows it down. */
const MOST = 500;
/** How long the notes are read in one go before waiting requests are let in, in milliseconds. */
const SLICE = 10;

interface Remembered {
  readonly stamp: string;
  readonly symbols: readonly SymbolInformation[];
}

/**
 * Looks for names in all the notes of the open folders. What a file held is remembered until the file
 * changes; a note that is open counts as it stands in the editor.
 */
export class WorkspaceSymbols {
  readonly #remembered = new Map<string, Remembered>();

  constructor(
    private readonly session: Session,
    private readonly libraries: Libraries,
    private readonly files: Files,
    private readonly open: () => readonly string[],
    private readonly folders: () => readonly string[],
  ) {}

  async find(query: string, token: CancellationToken): Promise<SymbolInformation[]> {
    const found: SymbolInformation[] = [];
    const memo = new LineMemo();
    let started = performance.now();
    for (const uri of new Set([...this.files.markdownIn(this.folders()), ...this.open()])) {
      if (performance.now() - started > SLICE) {
        await new Promise<void>((resolve) => nextTurn(resolve));
        if (token.isCancellationRequested) return [];
        started = performance.now();
      }
      for (const symbol of this.#symbols(uri, memo)) {
        if (!matches(query, symbol.name)) continue;
        found.push(symbol);
        if (found.length === MOST) return found;
      }
    }
    return found;
  }

  #symbols(uri: string, memo: LineMemo): readonly SymbolInformation[] {
    const open = this.session.checked(uri);
    if (open) return toSymbols(uri, open.analysis.note);
    const stamp = this.files.stamp(uri);
    const known = this.#remembered.get(uri);
    if (known?.stamp === stamp) return known.symbols;
    const text = this.files.text(uri) ?? "";
    const note = text.startsWith("---") ? readNote(text, this.libraries.yaml, memo) : undefined;
    const symbols = note && isJobNote(note) ? toSymbols(uri, note) : [];
    this.#remembered.set(uri, { stamp, symbols });
    return symbols;
  }
}

const toSymbols = (uri: string, note: Note): SymbolInformation[] =>
  symbolsOf(note).map(({ kind, name, within, range }) => ({
    name,
    kind: SYMBOL_KINDS[kind],
    location: { uri, range: toRange(note.lines, range) },
    ...(within === "" ? {} : { containerName: within }),
  }));
