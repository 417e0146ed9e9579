import type { Analysis, TextEdit } from "../../analysis/analysis.ts";
import { collectNames, keyUnder } from "../../analysis/scope.ts";
import { partsOf } from "../../language/parts-of.ts";
import type { Expression } from "../../language/syntax.ts";
import type { Note, Range } from "../../note/note.ts";
import { lineAt } from "../../text/line-index.ts";
import { formulaOf, type LocatedLine, lineOf } from "../locate.ts";
import { at } from "../mentions.ts";
import { lineEndOf } from "./accept.ts";

/** A part of a formula that gets a line and a name of its own. */
export interface Extraction {
  readonly name: string;
  readonly edits: readonly TextEdit[];
}

/** Gives the selected part of a formula a name; undefined where the selection is no part of one. */
export function extraction({ note }: Analysis, selection: Range): Extraction | undefined {
  if (selection.from === selection.to) return undefined;
  const line = lineOf(note, selection.from);
  if (!line || lineOf(note, selection.to)?.placed !== line.placed || line.placed.syntax.problems.length > 0)
    return undefined;
  const formula = formulaOf(line);
  const part = formula && partIn(formula, line.placed.offset, selection);
  if (!part || part.kind === "name") return undefined;
  const range = withBrackets(note.text, at(line.placed.offset, part.span), selection);
  const home = homeOf(note, line);
  if (!home || range === undefined) return undefined;
  const name = freeName(note, home.label, nameFor(line));
  const { from, to } = at(line.placed.offset, part.span);
  const definition = `${name} = ${withoutBrackets(note.text.slice(from, to))}`;
  const inserted = home.before ? definition + home.prefix : home.prefix + definition;
  return {
    name,
    edits: [
      { range: { from: home.offset, to: home.offset }, text: inserted },
      { range, text: name },
    ],
  };
}

/** The largest part of the formula that lies inside the selection. */
function partIn(formula: Expression, offset: number, { from, to }: Range): Expression | undefined {
  for (const node of partsOf(formula)) {
    if (offset + node.span.from >= from && offset + node.span.to <= to) return node;
  }
  return undefined;
}

/**
 * The selection without blanks round it, when besides the part it holds nothing but the part's own brackets;
 * undefined when it cuts through something else.
 */
function withBrackets(text: string, part: Range, selection: Range): Range | undefined {
  const before = text.slice(selection.from, part.from);
  const behind = text.slice(part.to, selection.to);
  const opened = before.match(/\(/g)?.length ?? 0;
  if (!/^[\s(]*$/.test(before) || !/^[\s)]*$/.test(behind)) return undefined;
  if (opened !== (behind.match(/\)/g)?.length ?? 0)) return undefined;
  const from = selection.from + before.length - before.trimStart().length;
  return { from, to: part.to + behind.trimEnd().length };
}

/** What a part's own brackets hold: on a line of its own it needs none. */
function withoutBrackets(text: string): string {
  if (!text.startsWith("(") || !text.endsWith(")")) return text;
  const inner = text.slice(1, -1);
  let open = 0;
  for (const character of inner) {
    if (character === "(") open++;
    else if (character === ")" && --open < 0) return text;
  }
  return inner.trim();
}

interface Home {
  readonly offset: number;
  /** What parts the new line from the one beside it. */
  readonly prefix: string;
  readonly before: boolean;
  readonly label: string;
}

/** Where the new line goes: above the reading that uses it, or to the end of a readings block for a limit. */
function homeOf(note: Note, line: LocatedLine): Home | undefined {
  const { block, placed } = line;
  const end = lineEndOf(note);
  if (block.kind === "readings") {
    return {
      offset: placed.offset,
      prefix: end + marksBefore(note, placed.offset),
      before: true,
      label: block.label,
    };
  }
  const readings = note.blocks.filter((b) => b.kind === "readings" && b.label === "" && b.lines.length > 0);
  const nearest = readings.findLast((b) => b.range.from < block.range.from) ?? readings[0];
  const last = nearest?.lines.at(-1);
  if (!last) return undefined;
  const prefix = end + marksBefore(note, last.offset);
  return { offset: last.offset + last.length, prefix, before: false, label: "" };
}

/** Quote marks and indentation before a line's content. */
const marksBefore = (note: Note, offset: number): string =>
  note.text.slice(note.lines.starts[lineAt(note.lines, offset)], offset);

function nameFor({ placed }: LocatedLine): string {
  return placed.syntax.kind === "formula" ? `part of ${placed.syntax.name.text}` : "part of a limit";
}

function freeName(note: Note, label: string, wanted: string): string {
  const { byKey } = collectNames(note);
  const taken = (name: string): boolean =>
    byKey.has(keyUnder(label, name.toLowerCase())) || byKey.has(name.toLowerCase());
  let name = wanted;
  for (let number = 2; taken(name); number++) name = `${wanted} ${number}`;
  return name;
}
