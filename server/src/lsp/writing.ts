import type {
  CodeAction,
  CodeActionParams,
  CompletionItem,
  CompletionList,
  CompletionParams,
  Connection,
  DocumentFormattingParams,
  DocumentOnTypeFormattingParams,
  DocumentRangeFormattingParams,
  Range,
  SignatureHelp,
  SignatureHelpParams,
  TextEdit,
} from "vscode-languageserver/node";
import { codeActions } from "../ide/code-actions.ts";
import { cardOf } from "../ide/completion/card-of.ts";
import { complete } from "../ide/completion.ts";
import { format } from "../ide/formatting.ts";
import { signatureHelp } from "../ide/signature-help.ts";
import { isCompletionData, toCompletions } from "./completion-to-protocol.ts";
import type { FeatureOptions } from "./features.ts";
import { fromPosition, fromRange } from "./from-protocol.ts";
import { toSignatureHelp } from "./outline-to-protocol.ts";
import type { Session } from "./session.ts";
import { toCodeAction, toEdits, toMarkup, toWorkspaceEdit } from "./to-protocol.ts";

/** What helps to write a note, or changes it. */
export class Writing {
  constructor(
    private readonly session: Session,
    private readonly connection: Connection,
    private readonly options: FeatureOptions,
  ) {}

  completion({ textDocument, position }: CompletionParams): CompletionItem[] | CompletionList {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, shop, target } = checked;
    const logs = this.session.logFiles(textDocument.uri);
    const found = complete(analysis, shop, fromPosition(analysis.note, position), logs);
    const typed = ({ from, to }: { from: number; to: number }): string => analysis.note.text.slice(from, to);
    return toCompletions(found, target, typed, { sharedRange: this.options.abilities.sharesEditRange });
  }

  /** Tells more of a completion that somebody looks at. */
  resolveCompletion(item: CompletionItem): CompletionItem {
    const data: unknown = item.data;
    const checked = isCompletionData(data) ? this.session.checked(data.uri) : undefined;
    const card =
      isCompletionData(data) && checked
        ? cardOf(checked.analysis.note, checked.shop, data.kind, data.about)
        : undefined;
    return card
      ? { ...item, documentation: toMarkup(card, this.options.abilities.markdownInCompletion) }
      : item;
  }

  signatureHelp({ textDocument, position }: SignatureHelpParams): SignatureHelp | null {
    const checked = this.session.checked(textDocument.uri);
    const help =
      checked && signatureHelp(checked.analysis, checked.shop, fromPosition(checked.analysis.note, position));
    return help ? toSignatureHelp(help, this.options.abilities.markdown) : null;
  }

  format({ textDocument }: DocumentFormattingParams): TextEdit[] {
    return this.#format(textDocument.uri, undefined);
  }

  formatRange({ textDocument, range }: DocumentRangeFormattingParams): TextEdit[] {
    return this.#format(textDocument.uri, range);
  }

  /** Sets the line that was just left by the return key. */
  formatOnType({ textDocument, position }: DocumentOnTypeFormattingParams): TextEdit[] {
    if (position.line === 0) return [];
    const start = { line: position.line - 1, character: 0 };
    return this.#format(textDocument.uri, { start, end: start });
  }

  #format(uri: string, range: Range | undefined): TextEdit[] {
    const checked = this.session.checked(uri);
    if (!checked) return [];
    const { note } = checked.analysis;
    return toEdits(note.lines, format(note, range && fromRange(note, range)));
  }

  codeActions({ textDocument, range, context }: CodeActionParams): CodeAction[] {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, shop, target } = checked;
    const { rulePages, abilities } = this.options;
    const actions = codeActions(analysis, shop, fromRange(analysis.note, range), context.only);
    return actions.map((action) => toCodeAction(action, target, { rulePages, ...abilities }));
  }

  async recordResults(uri: unknown): Promise<boolean> {
    const checked = typeof uri === "string" ? this.session.checked(uri) : undefined;
    const edits = checked?.analysis.recordResults() ?? [];
    if (!checked || edits.length === 0) return false;
    const edit = toWorkspaceEdit(edits, checked.target, this.options.abilities.versionedEdits);
    return (await this.connection.workspace.applyEdit({ label: "Record results", edit })).applied;
  }
}
