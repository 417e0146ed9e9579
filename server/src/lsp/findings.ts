import type {
  Connection,
  Diagnostic,
  DocumentDiagnosticParams,
  FullDocumentDiagnosticReport,
  PublishDiagnosticsParams,
  TextDocuments,
} from "vscode-languageserver/node";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { shopFindings } from "../check/shop-findings.ts";
import { indexLines } from "../text/line-index.ts";
import type { FeatureOptions } from "./features.ts";
import type { ShopFile } from "./files.ts";
import { nextTurn } from "./next-turn.ts";
import { isShopAddress } from "./open-shops.ts";
import type { CheckedNote, Session } from "./session.ts";
import { type FindingStyle, toDiagnostic, tooLong } from "./to-protocol.ts";

/** While somebody types in a shop file, the notes under it wait for a pause this long, in milliseconds. */
const CALM_MS = 200;

/** The findings: sent on our own account, until a client asks for them itself. */
export class Findings {
  readonly #style: FindingStyle;
  /** A client that pulls shows what it pulled; pushing as well would show every finding twice. */
  #pulling = false;
  #calm: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly session: Session,
    private readonly connection: Connection,
    private readonly documents: TextDocuments<TextDocument>,
    private readonly options: FeatureOptions,
  ) {
    const { rulePages, abilities } = options;
    this.#style = { rulePages, relatedInformation: abilities.relatedInformation };
  }

  opened({ uri }: TextDocument): void {
    this.session.forget(uri);
    this.#lookAgain();
  }

  /**
   * Sends the findings of a text as it now is. While a long note is worked on, several keystrokes can queue
   * up, and only the newest is worth working out. One turn of the process's loop is enough to see whether
   * another waits; a change that comes alone is not held up by it.
   */
  changed({ uri, version }: TextDocument): void {
    if (isShopAddress(uri)) {
      clearTimeout(this.#calm);
      this.#calm = setTimeout(() => this.filesChanged(), CALM_MS);
      return;
    }
    nextTurn(() => nextTurn(() => this.#publish(uri, version)));
  }

  closed({ uri }: TextDocument): void {
    this.session.forget(uri);
    if (isShopAddress(uri)) {
      clearTimeout(this.#calm);
      // What was not saved is gone, and the disk counts again.
      this.filesChanged();
      this.#showShop(uri);
    } else if (!this.#pulling) this.#send({ uri, diagnostics: [] });
  }

  /** Files were saved, made or deleted: shop files and links may have changed. */
  filesChanged(): void {
    this.#lookAgain();
    for (const document of this.documents.all()) {
      if (isShopAddress(document.uri)) this.#showShop(document.uri);
      else this.changed(document);
    }
    const { refreshesHints, refreshesDiagnostics } = this.options.abilities;
    const { inlayHint, diagnostics } = this.connection.languages;
    // A client that will not is one that shows the old state until the next keystroke.
    if (refreshesHints) inlayHint.refresh().catch(() => undefined);
    if (this.#pulling && refreshesDiagnostics) diagnostics.refresh();
  }

  #lookAgain(): void {
    // The findings of a shop file that changed are shown anew when a note next asks for it.
    for (const { uri } of this.session.filesChanged())
      if (this.documents.get(uri) === undefined) this.#send({ uri, diagnostics: [] });
  }

  #send(findings: PublishDiagnosticsParams): void {
    // When the client has gone there is nobody left to tell.
    this.connection.sendDiagnostics(findings).catch(() => undefined);
  }

  #publish(uri: string, version: number): void {
    if (this.#pulling || this.documents.get(uri)?.version !== version) return;
    this.#send({ uri, version, diagnostics: this.#diagnostics(uri) });
  }

  /** Shows what is wrong with a shop file that was read. */
  shopRead(file: ShopFile): void {
    const diagnostics = this.#shopDiagnostics(file);
    if (diagnostics.length > 0) this.#send({ uri: file.uri, diagnostics });
  }

  /** Shows the findings of one shop file as it is now, none of them too. */
  #showShop(uri: string): void {
    const file = this.session.shopAt(uri);
    const version = this.documents.get(uri)?.version;
    const diagnostics = file ? this.#shopDiagnostics(file) : [];
    this.#send({ uri, diagnostics, ...(version === undefined ? {} : { version }) });
  }

  #shopDiagnostics(file: ShopFile): Diagnostic[] {
    const target = { uri: file.uri, version: 0, lines: indexLines(file.text) };
    return shopFindings(file.shop).map((finding) => toDiagnostic(finding, target, this.#style));
  }

  #diagnostics(uri: string): Diagnostic[] {
    const outcome = this.session.look(uri);
    if (outcome?.kind === "too long") return [tooLong()];
    if (outcome?.kind !== "checked") return [];
    return this.diagnosticsOf(outcome.checked);
  }

  diagnosticsOf({ analysis, target }: CheckedNote): Diagnostic[] {
    const { information } = this.options.settings();
    const shown = analysis.findings.filter(({ severity }) => information || severity !== "info");
    return shown.map((finding) => toDiagnostic(finding, target, this.#style));
  }

  pull({ textDocument: { uri } }: DocumentDiagnosticParams): FullDocumentDiagnosticReport {
    if (this.options.mayPull && !this.#pulling) {
      this.#pulling = true;
      for (const open of this.documents.keys()) this.#send({ uri: open, diagnostics: [] });
    }
    return { kind: "full", items: this.#diagnostics(uri) };
  }
}
