import type { Note, Range } from "../note/note.ts";
import { sectionsOf } from "../note/prose-outline.ts";
import { lineOf } from "./locate.ts";
import { at } from "./mentions.ts";

/**
 * What widening a selection takes in, step by step, from the cursor outwards: a name or number, each part of
 * the formula round it, the line, the block's lines, the block, the sections, the note.
 */
export function selectionRanges(note: Note, offset: number): readonly Range[] {
  const found: Range[] = [];
  const line = lineOf(note, offset);
  if (line) {
    const { placed, block } = line;
    for (const span of spansIn(placed.syntax)) found.push(at(placed.offset, span));
    found.push({ from: placed.offset, to: placed.offset + placed.length });
    const first = block.lines[0];
    const last = block.lines.at(-1);
    if (first && last) found.push({ from: first.offset, to: last.offset + last.length });
    found.push(block.range);
  }
  if (note.frontMatter.present) found.push(...note.frontMatter.at.values(), note.frontMatter.range);
  for (const { heading, range } of sectionsOf(note)) found.push(heading.range, range);
  found.push({ from: 0, to: note.text.length });

  const around = found.filter(({ from, to }) => from <= offset && offset <= to);
  around.sort((a, b) => a.to - a.from - (b.to - b.from));
  const nested: Range[] = [];
  for (const range of around) {
    const inner = nested.at(-1);
    const wider =
      !inner || (range.from <= inner.from && inner.to <= range.to && length(range) > length(inner));
    if (wider) nested.push(range);
  }
  return nested;
}

const length = ({ from, to }: Range): number => to - from;

/** Every span of a line's tree, whatever kind of node it belongs to. */
function* spansIn(node: unknown): Generator<Range> {
  if (typeof node !== "object" || node === null) return;
  if ("span" in node && isSpan(node.span)) yield node.span;
  for (const [key, value] of Object.entries(node)) {
    // What is wrong with a line has places of its own, which nobody wants to select.
    if (key !== "span" && key !== "problems") yield* spansIn(value);
  }
}

const isSpan = (value: unknown): value is Range =>
  typeof value === "object" && value !== null && "from" in value && "to" in value;
