import type {
  CodeAction,
  Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  Hover,
  InlayHint,
  MarkupContent,
  Position,
  TextEdit as ProtocolEdit,
  Range as ProtocolRange,
  WorkspaceEdit,
} from "vscode-languageserver/node";
import type { Finding, Severity, TextEdit } from "../analysis/analysis.ts";
import { type Card, cardAsMarkdown, cardAsText } from "../ide/card.ts";
import type { Action } from "../ide/code-actions.ts";
import type { Hovered } from "../ide/hover.ts";
import type { Hint } from "../ide/inlay-hints.ts";
import type { Range } from "../note/note.ts";
import { type LineIndex, positionAt } from "../text/line-index.ts";

/**
 * Turns our plain data into the protocol's shapes. This file and `from-protocol.ts` are the only ones that
 * know how the protocol writes a position. Columns are UTF-16 units on both sides.
 */

function toPosition(lines: LineIndex, offset: number): Position {
  const { line, column } = positionAt(lines, offset);
  return { line, character: column };
}

export function toRange(lines: LineIndex, range: Range): ProtocolRange {
  return { start: toPosition(lines, range.from), end: toPosition(lines, range.to) };
}

export const toEdits = (lines: LineIndex, edits: readonly TextEdit[]): ProtocolEdit[] =>
  edits.map((edit) => ({ range: toRange(lines, edit.range), newText: edit.text }));

/** The text that a reply is about. */
export interface Target {
  readonly uri: string;
  readonly version: number;
  readonly lines: LineIndex;
}

// ---- Findings -------------------------------------------------------------------------------------

export interface FindingStyle {
  /** Where the pages of the rules are, ending in `/`. */
  readonly rulePages: string;
  readonly relatedInformation: boolean;
}

export const SOURCE = "witness-mark";

/** Error, Warning and Information of the protocol. */
const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = { error: 1, warning: 2, info: 3 };
/** `DiagnosticTag.Unnecessary` of the protocol. */
const UNNECESSARY: DiagnosticTag = 1;

/** For a text that is not looked at; it has no rule, since nothing in the note is wrong. */
export const tooLong = (): Diagnostic => ({
  range: { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } },
  severity: SEVERITIES.warning,
  source: SOURCE,
  message:
    "This file is too long to be checked as a job note.\nKeep long logs in a CSV file beside the note and name it in a series.",
});

/** Text that has no effect any more is shown faded by editors that know how. */
const WITHOUT_EFFECT: ReadonlySet<string> = new Set(["accept/unused"]);

export function toDiagnostic(finding: Finding, target: Target, style: FindingStyle): Diagnostic {
  const lines = target.lines;
  const diagnostic: Diagnostic = {
    range: toRange(lines, finding.range),
    severity: SEVERITIES[finding.severity],
    code: finding.rule,
    codeDescription: { href: rulePage(style.rulePages, finding.rule) },
    source: SOURCE,
    message: [finding.message, finding.why, finding.advice].filter((part) => part !== "").join("\n"),
  };
  if (style.relatedInformation && finding.related.length > 0) {
    diagnostic.relatedInformation = finding.related.map((related) => ({
      location: { uri: target.uri, range: toRange(lines, related.range) },
      message: related.message,
    }));
  }
  if (WITHOUT_EFFECT.has(finding.rule)) diagnostic.tags = [UNNECESSARY];
  return diagnostic;
}

export const rulePage = (base: string, rule: string): string => `${base}${rule.replaceAll("/", "-")}.md`;

// ---- Hints, hovers --------------------------------------------------------------------------------

/** What a hint carries so that its tooltip can be made when somebody asks for it. */
export interface HintData {
  readonly uri: string;
  readonly key: string;
}

export const isHintData = (data: unknown): data is HintData =>
  typeof data === "object" &&
  data !== null &&
  "uri" in data &&
  typeof data.uri === "string" &&
  "key" in data &&
  typeof data.key === "string";

/** `inParts`: the client takes a label that leads somewhere. */
export function toInlayHint(hint: Hint, target: Target, inParts: boolean): InlayHint {
  const data: HintData = { uri: target.uri, key: hint.value.key };
  const label = inParts ? [{ value: hint.text }] : hint.text;
  return { position: toPosition(target.lines, hint.at), label, paddingLeft: true, data };
}

export function toMarkup(card: Card, markdown: boolean): MarkupContent {
  return markdown
    ? { kind: "markdown", value: cardAsMarkdown(card) }
    : { kind: "plaintext", value: cardAsText(card) };
}

export function toHover(hovered: Hovered, target: Target, markdown: boolean): Hover {
  return { contents: toMarkup(hovered.card, markdown), range: toRange(target.lines, hovered.range) };
}

// ---- Code actions ---------------------------------------------------------------------------------

export interface ActionStyle extends FindingStyle {
  /** Whether the client takes edits that name the version of the text that they are for. */
  readonly versionedEdits: boolean;
}

export function toWorkspaceEdit(
  edits: readonly TextEdit[],
  target: Target,
  versioned: boolean,
): WorkspaceEdit {
  const changes = toEdits(target.lines, edits);
  if (!versioned) return { changes: { [target.uri]: changes } };
  return {
    documentChanges: [{ textDocument: { uri: target.uri, version: target.version }, edits: changes }],
  };
}

export function toCodeAction(action: Action, target: Target, style: ActionStyle): CodeAction {
  const made: CodeAction = {
    title: action.title,
    kind: action.kind,
    edit: toWorkspaceEdit(action.edits, target, style.versionedEdits),
  };
  if (action.finding) made.diagnostics = [toDiagnostic(action.finding, target, style)];
  if (action.preferred) made.isPreferred = true;
  return made;
}
