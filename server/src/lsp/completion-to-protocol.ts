import type { CompletionItem, CompletionItemKind, CompletionList } from "vscode-languageserver/node";
import type { Completion, CompletionKind } from "../ide/completion/place.ts";
import { matches } from "../ide/workspace-symbols.ts";
import type { Range } from "../note/note.ts";
import { type Target, toRange } from "./to-protocol.ts";

/** Numbers of the protocol; the name behind each says what an editor draws. */
const COMPLETION_KINDS: Readonly<Record<CompletionKind, CompletionItemKind>> = {
  unit: 11, // Unit
  reading: 6, // Variable
  "expected reading": 5, // Field
  function: 3, // Function
  argument: 10, // Property
  instrument: 21, // Constant
  step: 23, // Event
  outcome: 20, // EnumMember
  place: 18, // Reference
  key: 10, // Property
  option: 10, // Property
  file: 17, // File
  value: 20, // EnumMember
  block: 22, // Struct
  word: 14, // Keyword
};

/** What an item carries so that it can be told about when somebody looks at it. */
export interface CompletionData {
  readonly uri: string;
  readonly kind: CompletionKind;
  readonly about: string;
}

export const isCompletionData = (data: unknown): data is CompletionData =>
  typeof data === "object" &&
  data !== null &&
  "uri" in data &&
  typeof data.uri === "string" &&
  "about" in data &&
  typeof data.about === "string" &&
  "kind" in data &&
  typeof data.kind === "string" &&
  data.kind in COMPLETION_KINDS;

/** More items than anybody reads; beyond it only those that the typed letters match are sent. */
const MOST = 300;

export interface CompletionStyle {
  /** Whether the client takes one range for all items. */
  readonly sharedRange: boolean;
}

/**
 * Completions in the order in which they are to be offered. Where there are very many, those that do not
 * match what is typed are left out, and the list says that it has to be asked for again.
 */
export function toCompletions(
  completions: readonly Completion[],
  target: Target,
  typed: (range: Range) => string,
  { sharedRange }: CompletionStyle,
): CompletionItem[] | CompletionList {
  const [first] = completions;
  if (!first) return [];
  const tooMany = completions.length > MOST;
  const kept = tooMany
    ? completions
        .filter(({ filter, label, replaces }) => matches(typed(replaces), filter ?? label))
        .slice(0, MOST)
    : completions;
  const shared =
    sharedRange &&
    kept.every(({ replaces: { from, to } }) => from === first.replaces.from && to === first.replaces.to);
  const ranges = new Map<Range, ReturnType<typeof toRange>>();
  const items = kept.map((completion, order): CompletionItem => {
    const item = toItem(completion, order, target);
    if (shared) {
      if (completion.text !== completion.label) item.textEditText = completion.text;
      return item;
    }
    const range = ranges.get(completion.replaces) ?? toRange(target.lines, completion.replaces);
    ranges.set(completion.replaces, range);
    item.textEdit = { range, newText: completion.text };
    return item;
  });
  if (!tooMany && !shared) return items;
  const itemDefaults = shared ? { editRange: toRange(target.lines, first.replaces) } : undefined;
  return { isIncomplete: tooMany, items, ...(itemDefaults ? { itemDefaults } : {}) };
}

function toItem(completion: Completion, order: number, target: Target): CompletionItem {
  const item: CompletionItem = {
    label: completion.label,
    kind: COMPLETION_KINDS[completion.kind],
    // Editors sort by text; the order is ours.
    sortText: String(order).padStart(5, "0"),
  };
  if (completion.filter !== undefined) item.filterText = completion.filter;
  if (completion.detail) item.detail = completion.detail;
  if (completion.about !== undefined) {
    const data: CompletionData = { uri: target.uri, kind: completion.kind, about: completion.about };
    item.data = data;
  }
  return item;
}
