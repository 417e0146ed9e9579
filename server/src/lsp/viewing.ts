import type {
  CodeLens,
  CodeLensParams,
  DocumentLink,
  DocumentLinkParams,
  DocumentSymbol,
  DocumentSymbolParams,
  FoldingRange,
  FoldingRangeParams,
  Hover,
  HoverParams,
  InlayHint,
  InlayHintParams,
  SelectionRange,
  SelectionRangeParams,
  SemanticTokens,
  SemanticTokensParams,
  SemanticTokensRangeParams,
} from "vscode-languageserver/node";
import { historyOfAnalysis } from "../check/analyze.ts";
import { lensText, stepsLenses } from "../ide/code-lens.ts";
import { documentLinks } from "../ide/document-links.ts";
import { documentSymbols } from "../ide/document-symbols.ts";
import { folds } from "../ide/folding.ts";
import { hover, valueCard } from "../ide/hover.ts";
import { inlayHints } from "../ide/inlay-hints.ts";
import { valueOfKey } from "../ide/look-up.ts";
import { selectionRanges } from "../ide/selection-range.ts";
import { semanticTokens } from "../ide/semantic-tokens.ts";
import type { FeatureOptions } from "./features.ts";
import { fromPosition, fromRange } from "./from-protocol.ts";
import {
  isLensData,
  toCodeLens,
  toDocumentSymbol,
  toFoldingRange,
  toLink,
  toSelectionRange,
  toSemanticTokens,
} from "./outline-to-protocol.ts";
import type { Session } from "./session.ts";
import { isHintData, toHover, toInlayHint, toMarkup, toRange } from "./to-protocol.ts";

/** What an editor shows of a note besides its text. */
export class Viewing {
  constructor(
    private readonly session: Session,
    private readonly options: FeatureOptions,
  ) {}

  hints({ textDocument, range }: InlayHintParams): InlayHint[] {
    const checked = this.options.settings().hints ? this.session.checked(textDocument.uri) : undefined;
    if (!checked) return [];
    const { analysis, target } = checked;
    return inlayHints(analysis, fromRange(analysis.note, range)).map((hint) =>
      toInlayHint(hint, target, this.options.abilities.followsHints),
    );
  }

  /** Adds the working to a hint that somebody points at, and where a click on it leads: to the definition. */
  resolveHint(hint: InlayHint): InlayHint {
    const data: unknown = hint.data;
    if (!isHintData(data)) return hint;
    const checked = this.session.checked(data.uri);
    const value = checked && valueOfKey(checked.analysis, data.key);
    if (!value) return hint;
    const tooltip = toMarkup(valueCard(checked.analysis, value), this.options.abilities.markdown);
    const { label } = hint;
    if (typeof label === "string") return { ...hint, tooltip };
    const { uri, lines } = checked.target;
    const location = { uri, range: toRange(lines, value.nameRange) };
    return { ...hint, tooltip, label: label.map((part) => ({ ...part, location })) };
  }

  hover({ textDocument, position }: HoverParams): Hover | null {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return null;
    const { analysis, shop, target } = checked;
    const hovered = hover(analysis, shop, fromPosition(analysis.note, position));
    return hovered ? toHover(hovered, target, this.options.abilities.markdown) : null;
  }

  symbols({ textDocument }: DocumentSymbolParams): DocumentSymbol[] {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    return documentSymbols(checked.analysis).map((entry) => toDocumentSymbol(entry, checked.target.lines));
  }

  folds({ textDocument }: FoldingRangeParams): FoldingRange[] {
    const checked = this.session.checked(textDocument.uri);
    return checked ? folds(checked.analysis.note).map(toFoldingRange) : [];
  }

  selectionRanges({ textDocument, positions }: SelectionRangeParams): SelectionRange[] | null {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return null;
    const { note } = checked.analysis;
    return positions.map((position) =>
      toSelectionRange(selectionRanges(note, fromPosition(note, position)), note.lines),
    );
  }

  tokens({ textDocument }: SemanticTokensParams): SemanticTokens {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return { data: [] };
    const { note } = checked.analysis;
    return toSemanticTokens(
      semanticTokens(checked.analysis, checked.shop, { from: 0, to: note.text.length }),
      note.lines,
    );
  }

  tokensIn({ textDocument, range }: SemanticTokensRangeParams): SemanticTokens {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return { data: [] };
    const { note } = checked.analysis;
    return toSemanticTokens(
      semanticTokens(checked.analysis, checked.shop, fromRange(note, range)),
      note.lines,
    );
  }

  lenses({ textDocument }: CodeLensParams): CodeLens[] {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    const { uri, lines } = checked.target;
    return stepsLenses(checked.analysis.note).map((lens) => toCodeLens(lens, uri, lines));
  }

  /** Says what is done and what comes next when a lens comes into view. */
  resolveLens(lens: CodeLens): CodeLens {
    const data: unknown = lens.data;
    const checked = isLensData(data) ? this.session.checked(data.uri) : undefined;
    const title =
      isLensData(data) && checked
        ? lensText(checked.analysis.note, data.block, () => historyOfAnalysis(checked.analysis))
        : undefined;
    // It tells and does nothing, so it has no command.
    return { ...lens, command: { title: title ?? "", command: "" } };
  }

  links({ textDocument }: DocumentLinkParams): DocumentLink[] {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    const { uri, lines } = checked.target;
    return documentLinks(checked.analysis.note).flatMap(
      (link) => toLink(link, uri, lines, this.options.rulePages) ?? [],
    );
  }
}
