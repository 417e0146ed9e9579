import { lineAt } from "../text/line-index.ts";
import { markdownTree, parseable } from "./markdown-tree.ts";
import type { Note, Range } from "./note.ts";

/** A heading of the prose that stands at the margin; those in lists and quotes are no part of the outline. */
export interface Heading {
  /** From 1 to 6. */
  readonly level: number;
  readonly text: string;
  readonly range: Range;
}

const NAME = /^(?:ATX|Setext)Heading([1-6])$/;
const made = new WeakMap<Note, readonly Heading[]>();

/** The note's headings in order. Made when somebody asks, since no finding needs them. */
export function headingsOf(note: Note): readonly Heading[] {
  const known = made.get(note);
  if (known) return known;
  const headings = findHeadings(note);
  made.set(note, headings);
  return headings;
}

function findHeadings(note: Note): Heading[] {
  const { text, lines, frontMatter } = note;
  const from = frontMatter.present ? (lines.starts[lineAt(lines, frontMatter.range.to) + 1] ?? lines.end) : 0;
  const body = parseable(text.slice(from));
  const headings: Heading[] = [];
  const { topNode } = markdownTree(body);
  for (let node = topNode.firstChild; node; node = node.nextSibling) {
    const level = NAME.exec(node.name)?.[1];
    if (level === undefined) continue;
    let said = body.slice(node.from, node.to);
    for (const mark of [...node.getChildren("HeaderMark")].reverse()) {
      said = said.slice(0, mark.from - node.from) + said.slice(mark.to - node.from);
    }
    headings.push({
      level: Number(level),
      text: said.replace(/\s+/g, " ").trim(),
      range: {
        from: from + node.from,
        to: from + node.from + body.slice(node.from, node.to).trimEnd().length,
      },
    });
  }
  return headings;
}

/** A heading with all that stands under it. */
export interface Section {
  readonly heading: Heading;
  readonly range: Range;
}

/** Each heading's section: up to the next heading of its level or above, without the blank lines at its end. */
export function sectionsOf(note: Note): readonly Section[] {
  const headings = headingsOf(note);
  return headings.map((heading, i) => {
    const next = headings.slice(i + 1).find((other) => other.level <= heading.level);
    const end = next?.range.from ?? note.text.length;
    return { heading, range: { from: heading.range.from, to: trimmedEnd(note.text, heading.range.to, end) } };
  });
}

function trimmedEnd(text: string, from: number, to: number): number {
  let end = to;
  while (end > from && /\s/.test(text.charAt(end - 1))) end--;
  return end;
}
