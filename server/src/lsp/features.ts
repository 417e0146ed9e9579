import type {
  CodeAction,
  CodeActionParams,
  CompletionItem,
  CompletionParams,
  Diagnostic,
  DidChangeTextDocumentParams,
  DidOpenTextDocumentParams,
  DocumentDiagnosticReport,
  Hover,
  HoverParams,
  InlayHint,
  InlayHintParams,
} from "vscode-languageserver-protocol";
import { codeActions } from "../ide/code-actions.ts";
import { complete } from "../ide/completion.ts";
import { hover, valueCard } from "../ide/hover.ts";
import { inlayHints } from "../ide/inlay-hints.ts";
import { valueOfKey } from "../ide/look-up.ts";
import { shopFindings } from "../shop/shop-findings.ts";
import { indexLines } from "../text/line-index.ts";
import type { ClientAbilities } from "./capabilities.ts";
import type { Client } from "./connection.ts";
import { fromPosition, fromRange, OpenText } from "./from-protocol.ts";
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

/** Answers to the client's questions, and the findings sent on our own account. Everything in it works at once. */
export class Features {
  readonly #session: Session;
  readonly #style: { rulePages: string; relatedInformation: boolean; versionedEdits: boolean };
  /** A client that pulls shows what it pulled; pushing as well would show every finding twice. */
  #pulling = false;

  constructor(
    private readonly client: Client,
    private readonly options: FeatureOptions,
  ) {
    const { relatedInformation, versionedEdits } = options.abilities;
    this.#style = { rulePages: options.rulePages, relatedInformation, versionedEdits };
    this.#session = new Session((file) => this.#publishShop(file));
  }

  // ---- Texts and findings ---------------------------------------------------------------------------

  open({ textDocument: { uri, version, text } }: DidOpenTextDocumentParams): void {
    this.#session.open(new OpenText(uri, version, text));
    this.#lookAgain();
    this.#publish(uri);
  }

  /** `newerWaits`: another change of the same text has arrived already, so this one need not be worked out. */
  change({ textDocument, contentChanges }: DidChangeTextDocumentParams, newerWaits: boolean): void {
    this.#session.text(textDocument.uri)?.change(contentChanges, textDocument.version);
    if (!newerWaits) this.#publish(textDocument.uri);
  }

  close(uri: string): void {
    this.#session.close(uri);
    if (!this.#pulling) this.client.tell("textDocument/publishDiagnostics", { uri, diagnostics: [] });
  }

  /** Files were saved, made or deleted: shop files and links may have changed. */
  filesChanged(): void {
    this.#lookAgain();
    for (const uri of this.#session.uris) this.#publish(uri);
    const { refreshesHints, refreshesDiagnostics } = this.options.abilities;
    if (refreshesHints) this.#refresh("workspace/inlayHint/refresh");
    if (this.#pulling && refreshesDiagnostics) this.#refresh("workspace/diagnostic/refresh");
  }

  #refresh(what: "workspace/inlayHint/refresh" | "workspace/diagnostic/refresh"): void {
    // A client that will not is one that shows the old state until the next keystroke.
    this.client.ask(what, undefined).catch(() => undefined);
  }

  #lookAgain(): void {
    // The findings of a shop file that changed are shown anew when a note next asks for it.
    for (const file of this.#session.filesChanged()) {
      this.client.tell("textDocument/publishDiagnostics", { uri: file.uri, diagnostics: [] });
    }
  }

  #publish(uri: string): void {
    const text = this.#session.text(uri);
    if (!text || this.#pulling) return;
    const diagnostics = this.#diagnostics(uri);
    this.client.tell("textDocument/publishDiagnostics", { uri, version: text.version, diagnostics });
  }

  #publishShop(file: ShopFile): void {
    const target = { uri: file.uri, version: 0, lines: indexLines(file.text) };
    const diagnostics = shopFindings(file.shop).map((finding) => toDiagnostic(finding, target, this.#style));
    if (diagnostics.length > 0)
      this.client.tell("textDocument/publishDiagnostics", { uri: file.uri, diagnostics });
  }

  #diagnostics(uri: string): Diagnostic[] {
    const outcome = this.#session.look(uri);
    if (outcome?.kind === "too long") return [tooLong()];
    if (outcome?.kind !== "checked") return [];
    const { analysis, target } = outcome.checked;
    return analysis.findings.map((finding) => toDiagnostic(finding, target, this.#style));
  }

  pull(uri: string): DocumentDiagnosticReport {
    if (this.options.mayPull && !this.#pulling) {
      this.#pulling = true;
      for (const open of this.#session.uris)
        this.client.tell("textDocument/publishDiagnostics", { uri: open, diagnostics: [] });
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
    return (await this.client.ask("workspace/applyEdit", { label: "Record results", edit })).applied;
  }
}
