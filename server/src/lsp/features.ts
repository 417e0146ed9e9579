import type {
  CodeAction,
  CodeActionParams,
  CompletionItem,
  CompletionParams,
  Connection,
  Diagnostic,
  DocumentDiagnosticParams,
  FullDocumentDiagnosticReport,
  Hover,
  HoverParams,
  InlayHint,
  InlayHintParams,
  PublishDiagnosticsParams,
  TextDocuments,
} from "vscode-languageserver/node";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { lazyLibraries } from "../host/libraries.ts";
import { codeActions } from "../ide/code-actions.ts";
import { complete } from "../ide/completion.ts";
import { hover, valueCard } from "../ide/hover.ts";
import { inlayHints } from "../ide/inlay-hints.ts";
import { valueOfKey } from "../ide/look-up.ts";
import { shopFindings } from "../shop/shop-findings.ts";
import { indexLines } from "../text/line-index.ts";
import type { ClientAbilities } from "./capabilities.ts";
import { fromPosition, fromRange } from "./from-protocol.ts";
import { Session } from "./session.ts";
import {
  isHintData,
  toCodeAction,
  toCompletionItem,
  toDiagnostic,
  toHover,
  toInlayHint,
  toMarkup,
  tooLong,
  toWorkspaceEdit,
} from "./to-protocol.ts";
import type { ShopFile } from "./workspace.ts";

export interface FeatureOptions {
  readonly abilities: ClientAbilities;
  readonly rulePages: string;
  /** Whether clients were told that they may pull. */
  readonly mayPull: boolean;
}

/** Answers to the client's questions, and the findings sent on our own account. */
export class Features {
  readonly #session: Session;
  readonly #style: { rulePages: string; relatedInformation: boolean; versionedEdits: boolean };
  /** A client that pulls shows what it pulled; pushing as well would show every finding twice. */
  #pulling = false;

  constructor(
    private readonly connection: Connection,
    private readonly documents: TextDocuments<TextDocument>,
    private readonly options: FeatureOptions,
  ) {
    const { relatedInformation, versionedEdits } = options.abilities;
    this.#style = { rulePages: options.rulePages, relatedInformation, versionedEdits };
    this.#session = new Session(documents, lazyLibraries, (file) => this.#publishShop(file));
  }

  // ---- Texts and findings ---------------------------------------------------------------------------

  opened({ uri }: TextDocument): void {
    this.#session.forget(uri);
    this.#lookAgain();
  }

  /**
   * Sends the findings of a text as it now is. While a long note is worked on, several keystrokes can queue
   * up, and only the newest is worth working out. One turn of the process's loop is enough to see whether
   * another waits; a change that comes alone is not held up by it.
   */
  changed({ uri, version }: TextDocument): void {
    setImmediate(() => setImmediate(() => this.#publish(uri, version)));
  }

  closed({ uri }: TextDocument): void {
    this.#session.forget(uri);
    if (!this.#pulling) this.#send({ uri, diagnostics: [] });
  }

  /** Files were saved, made or deleted: shop files and links may have changed. */
  filesChanged(): void {
    this.#lookAgain();
    for (const document of this.documents.all()) this.changed(document);
    const { refreshesHints, refreshesDiagnostics } = this.options.abilities;
    const { inlayHint, diagnostics } = this.connection.languages;
    // A client that will not is one that shows the old state until the next keystroke.
    if (refreshesHints) inlayHint.refresh().catch(() => undefined);
    if (this.#pulling && refreshesDiagnostics) diagnostics.refresh();
  }

  #lookAgain(): void {
    // The findings of a shop file that changed are shown anew when a note next asks for it.
    for (const { uri } of this.#session.filesChanged()) this.#send({ uri, diagnostics: [] });
  }

  #send(findings: PublishDiagnosticsParams): void {
    // When the client has gone there is nobody left to tell.
    this.connection.sendDiagnostics(findings).catch(() => undefined);
  }

  #publish(uri: string, version: number): void {
    if (this.#pulling || this.documents.get(uri)?.version !== version) return;
    this.#send({ uri, version, diagnostics: this.#diagnostics(uri) });
  }

  #publishShop(file: ShopFile): void {
    const target = { uri: file.uri, version: 0, lines: indexLines(file.text) };
    const diagnostics = shopFindings(file.shop).map((finding) => toDiagnostic(finding, target, this.#style));
    if (diagnostics.length > 0) this.#send({ uri: file.uri, diagnostics });
  }

  #diagnostics(uri: string): Diagnostic[] {
    const outcome = this.#session.look(uri);
    if (outcome?.kind === "too long") return [tooLong()];
    if (outcome?.kind !== "checked") return [];
    const { analysis, target } = outcome.checked;
    return analysis.findings.map((finding) => toDiagnostic(finding, target, this.#style));
  }

  pull({ textDocument: { uri } }: DocumentDiagnosticParams): FullDocumentDiagnosticReport {
    if (this.options.mayPull && !this.#pulling) {
      this.#pulling = true;
      for (const open of this.documents.keys()) this.#send({ uri: open, diagnostics: [] });
    }
    return { kind: "full", items: this.#diagnostics(uri) };
  }

  // ---- Questions ------------------------------------------------------------------------------------

  hints({ textDocument, range }: InlayHintParams): InlayHint[] {
    const checked = this.#session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, target } = checked;
    return inlayHints(analysis, fromRange(analysis.note, range)).map((hint) => toInlayHint(hint, target));
  }

  /** Adds the working to a hint that somebody points at. */
  resolveHint(hint: InlayHint): InlayHint {
    const data: unknown = hint.data;
    if (!isHintData(data)) return hint;
    const checked = this.#session.checked(data.uri);
    const value = checked && valueOfKey(checked.analysis, data.key);
    if (!value) return hint;
    return {
      ...hint,
      tooltip: toMarkup(valueCard(checked.analysis, value), this.options.abilities.markdown),
    };
  }

  hover({ textDocument, position }: HoverParams): Hover | null {
    const checked = this.#session.checked(textDocument.uri);
    if (!checked) return null;
    const { analysis, shop, target } = checked;
    const hovered = hover(analysis, shop, fromPosition(analysis.note, position));
    return hovered ? toHover(hovered, target, this.options.abilities.markdown) : null;
  }

  completion({ textDocument, position }: CompletionParams): CompletionItem[] {
    const checked = this.#session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, shop, target } = checked;
    const { markdownInCompletion } = this.options.abilities;
    return complete(analysis, shop, fromPosition(analysis.note, position)).map((completion, order) =>
      toCompletionItem(completion, order, target, markdownInCompletion),
    );
  }

  codeActions({ textDocument, range, context }: CodeActionParams): CodeAction[] {
    const checked = this.#session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, target } = checked;
    const actions = codeActions(analysis, fromRange(analysis.note, range), context.only);
    return actions.map((action) => toCodeAction(action, target, this.#style));
  }

  async recordResults(uri: unknown): Promise<boolean> {
    const checked = typeof uri === "string" ? this.#session.checked(uri) : undefined;
    const edits = checked?.analysis.recordResults() ?? [];
    if (!checked || edits.length === 0) return false;
    const edit = toWorkspaceEdit(edits, checked.target, this.options.abilities.versionedEdits);
    return (await this.connection.workspace.applyEdit({ label: "Record results", edit })).applied;
  }
}
