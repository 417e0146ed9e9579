import type { Analysis } from "../analysis/analysis.ts";
import type { Block, Range } from "../note/note.ts";
import { sectionsOf } from "../note/prose-outline.ts";
import { at } from "./mentions.ts";

/** An entry of the note's outline. Its children stand inside its range. */
export interface OutlineEntry {
  readonly kind: "heading" | "block" | "measured" | "derived" | "text" | "column" | "limit" | "step";
  readonly name: string;
  /** The value or the remark, for a line beside the name. */
  readonly detail?: string;
  readonly range: Range;
  /** The part to go to. */
  readonly nameRange: Range;
  readonly children: readonly OutlineEntry[];
}

/** Headings with the blocks under them, and in the blocks what they hold. */
export function documentSymbols(analysis: Analysis): readonly OutlineEntry[] {
  interface Open extends OutlineEntry {
    readonly children: OutlineEntry[];
  }
  const sections: Open[] = sectionsOf(analysis.note).map(({ heading, range }) => ({
    kind: "heading",
    name: heading.text === "" ? "(no title)" : heading.text,
    range,
    nameRange: heading.range,
    children: [],
  }));
  const from = { next: 0 };
  const blocks: Open[] = analysis.note.blocks.map((block) => ({
    kind: "block",
    name: block.label === "" ? block.kind : `${block.kind} ${block.label}`,
    range: block.range,
    nameRange: block.info,
    children: entriesOf(analysis, block, from),
  }));
  const roots: OutlineEntry[] = [];
  const open: Open[] = [];
  for (const entry of [...sections, ...blocks].sort((a, b) => a.range.from - b.range.from)) {
    while (open.length > 0 && (open.at(-1)?.range.to ?? 0) < entry.range.to) open.pop();
    (open.at(-1)?.children ?? roots).push(entry);
    if (entry.kind === "heading") open.push(entry);
  }
  return roots;
}

function entriesOf(analysis: Analysis, block: Block, from: { next: number }): OutlineEntry[] {
  switch (block.kind) {
    case "readings":
      return [...valuesIn(analysis, block.range, from)];
    case "series":
      return block.lines.flatMap(({ syntax, offset }) =>
        syntax.kind !== "header"
          ? []
          : syntax.columns.map((column) =>
              entry("column", column.name.text, column.unit?.text, at(offset, column.span)),
            ),
      );
    case "limits":
      return block.lines.flatMap(({ syntax, offset, length }) => {
        if (syntax.kind !== "limit") return [];
        const condition = at(offset, syntax.condition.span);
        const name = analysis.note.text.slice(condition.from, condition.to);
        return entry("limit", name, syntax.source?.text, { from: offset, to: offset + length }, condition);
      });
    case "steps":
      return block.lines.flatMap(({ syntax, offset, length }) => {
        if (syntax.kind !== "step") return [];
        const place = syntax.place ? ` [${syntax.place.text}]` : "";
        const { from, to } = syntax.time.span;
        const time = analysis.note.text.slice(offset + from, offset + to);
        const words = at(offset, syntax.step.span);
        return entry("step", syntax.step.text + place, time, { from: offset, to: offset + length }, words);
      });
  }
}

/** Values are in the order of the note, and so are the blocks: each block takes up where the one before ended. */
function* valuesIn({ values }: Analysis, within: Range, from: { next: number }): Generator<OutlineEntry> {
  for (; from.next < values.length; from.next++) {
    const value = values[from.next];
    if (!value || value.lineRange.from > within.to) return;
    if (value.lineRange.from < within.from) continue;
    const { name, kind, shown, lineRange, nameRange } = value;
    yield entry(kind, name, shown?.text, lineRange, nameRange);
  }
}

function entry(
  kind: OutlineEntry["kind"],
  name: string,
  detail: string | undefined,
  range: Range,
  nameRange = range,
): OutlineEntry {
  return {
    kind,
    name: name === "" ? "(no name)" : name,
    ...(detail ? { detail } : {}),
    range,
    nameRange,
    children: [],
  };
}
