import type {
  CodeLens,
  DocumentHighlight,
  DocumentHighlightKind,
  DocumentSymbol,
  FoldingRange,
  DocumentLink as ProtocolLink,
  SignatureHelp as ProtocolSignatureHelp,
  SelectionRange,
  SemanticTokens,
  SymbolKind,
} from "vscode-languageserver/node";
import type { StepsLens } from "../ide/code-lens.ts";
import type { DocumentLink, LinkTarget } from "../ide/document-links.ts";
import type { OutlineEntry } from "../ide/document-symbols.ts";
import type { Fold } from "../ide/folding.ts";
import type { Highlight } from "../ide/references.ts";
import type { SemanticToken, TokenKind } from "../ide/semantic-tokens.ts";
import type { SignatureHelp } from "../ide/signature-help.ts";
import type { Range } from "../note/note.ts";
import { type LineIndex, positionAt } from "../text/line-index.ts";
import { rulePage, toMarkup, toRange } from "./to-protocol.ts";
import { TOKEN_TYPES } from "./token-legend.ts";

/** The protocol's shapes of what stands where in a note: symbols, folds, links, colours, signatures. */

/** Numbers of the protocol; the name behind each says what an editor draws. */
export const SYMBOL_KINDS: Readonly<Record<OutlineEntry["kind"], SymbolKind>> = {
  heading: 15, // String, as VS Code shows markdown headings
  block: 23, // Struct
  measured: 13, // Variable
  derived: 12, // Function
  text: 20, // Key
  column: 8, // Field
  limit: 17, // Boolean
  step: 24, // Event
};

export function toDocumentSymbol(entry: OutlineEntry, lines: LineIndex): DocumentSymbol {
  return {
    name: entry.name,
    kind: SYMBOL_KINDS[entry.kind],
    range: toRange(lines, entry.range),
    selectionRange: toRange(lines, entry.nameRange),
    ...(entry.detail === undefined ? {} : { detail: entry.detail }),
    ...(entry.children.length === 0
      ? {}
      : { children: entry.children.map((child) => toDocumentSymbol(child, lines)) }),
  };
}

interface LensData {
  readonly uri: string;
  readonly block: number;
}

export const isLensData = (data: unknown): data is LensData =>
  typeof data === "object" &&
  data !== null &&
  "uri" in data &&
  typeof data.uri === "string" &&
  "block" in data &&
  typeof data.block === "number";

export function toCodeLens({ range, block }: StepsLens, uri: string, lines: LineIndex): CodeLens {
  const data: LensData = { uri, block };
  return { range: toRange(lines, range), data };
}

export const toFoldingRange = ({ from, to }: Fold): FoldingRange => ({ startLine: from, endLine: to });

export function toSelectionRange(ranges: readonly Range[], lines: LineIndex): SelectionRange {
  const [widest, ...inner] = ranges.map((range) => toRange(lines, range)).reverse();
  const nothing = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
  return inner.reduce<SelectionRange>((parent, range) => ({ range, parent }), { range: widest ?? nothing });
}

/** Text and Write of the protocol's kinds are 1 and 3; 2 is Read. */
const HIGHLIGHT_KINDS: Readonly<Record<Highlight["kind"], DocumentHighlightKind>> = { read: 2, written: 3 };

export const toHighlight = ({ range, kind }: Highlight, lines: LineIndex): DocumentHighlight => ({
  range: toRange(lines, range),
  kind: HIGHLIGHT_KINDS[kind],
});

/** Undefined where the target means nothing from this note, as a file beside a note that is none. */
export function toLink(
  link: DocumentLink,
  uri: string,
  lines: LineIndex,
  rulePages: string,
): ProtocolLink | undefined {
  const target = addressOf(link.target, uri, rulePages);
  return target === undefined ? undefined : { range: toRange(lines, link.range), target, tooltip: link.says };
}

function addressOf(target: LinkTarget, uri: string, rulePages: string): string | undefined {
  if (target.kind === "rule") return rulePage(rulePages, target.rule);
  if (target.kind === "address") return target.href;
  try {
    const path = target.path.replaceAll("\\", "/").split("/").map(encodeURIComponent).join("/");
    return new URL(path, uri).href;
  } catch {
    return undefined;
  }
}

const TYPE_INDEX = new Map(Object.keys(TOKEN_TYPES).map((kind, index) => [kind, index]));

/** Five numbers for each token: lines and columns from the one before, length, type, modifiers. */
export function toSemanticTokens(tokens: readonly SemanticToken[], lines: LineIndex): SemanticTokens {
  const data: number[] = [];
  let before = { line: 0, column: 0 };
  for (const { range, kind, defines, derived } of tokens) {
    const place = positionAt(lines, range.from);
    const column = place.line === before.line ? place.column - before.column : place.column;
    const modifiers = (defines ? 1 : 0) | (derived ? 2 : 0);
    data.push(place.line - before.line, column, range.to - range.from, typeIndex(kind), modifiers);
    before = place;
  }
  return { data };
}

const typeIndex = (kind: TokenKind): number => TYPE_INDEX.get(kind) ?? 0;

export function toSignatureHelp(help: SignatureHelp, markdown: boolean): ProtocolSignatureHelp {
  const { label, card, parameters, active } = help;
  const signature = {
    label,
    documentation: toMarkup(card, markdown),
    parameters: parameters.map(({ from, to, says }) => ({
      label: [from, to] satisfies [number, number] as [number, number],
      documentation: says,
    })),
  };
  // An index past the last one draws none as active.
  return { signatures: [signature], activeSignature: 0, activeParameter: active ?? parameters.length };
}
