import { partsOf } from "../../language/parts-of.ts";
import type { Expression, NumberText, Span, UnitText } from "../../language/syntax.ts";

interface Change {
  readonly span: Span;
  readonly text: string;
}

/** A part of a line that holds a formula, with its blanks and signs as they are usually written. */
export function formulaText(line: string, part: Span, formula: Expression): string {
  const changes: Change[] = [];
  const change = (from: number, to: number, text: string): void => {
    if (from <= to && line.slice(from, to) !== text) changes.push({ span: { from, to }, text });
  };
  /** Replaces what stands between two pieces, if it is nothing but blanks and this sign. */
  const between = (from: number, to: number, sign: RegExp, text: string): void => {
    if (sign.test(line.slice(from, to))) change(from, to, text);
  };
  for (const node of partsOf(formula)) {
    switch (node.kind) {
      case "number":
        if (node.unit) change(node.number.span.to, node.unit.span.from, gapBefore(node.unit));
        break;
      case "name":
        change(node.span.from, node.span.to, node.name.text);
        break;
      case "binary": {
        const { from, to } = node.operatorSpan;
        const gap = node.operator === "^" ? "" : " ";
        change(blanksBefore(line, from), blanksBehind(line, to), gap + node.operator + gap);
        break;
      }
      case "is":
        between(node.subject.span.to, node.text.span.from, /^\s+is\s+$/i, " is ");
        break;
      case "call": {
        const [first] = node.args;
        change(node.name.span.from, node.name.span.to, node.name.text);
        if (first) between(node.name.span.to, first.span.from, /^\s*\(\s*$/, "(");
        node.args.forEach((argument, i) => {
          const next = node.args[i + 1];
          if (argument.label) between(argument.label.span.to, argument.value.span.from, /^\s*:\s*$/, ": ");
          // An argument's own span may take in the blanks behind it.
          const end = blanksBefore(line, argument.span.to);
          if (next) between(end, next.span.from, /^\s*,\s*$/, ", ");
          else between(end, node.span.to, /^\s*\)$/, ")");
        });
        break;
      }
    }
  }
  return withChanges(line, part, changes);
}

/** A number with its unit; only an inch mark touches its number. */
export const quantityText = (line: string, number: NumberText, unit: UnitText | undefined): string =>
  raw(line, number.span) + (unit ? gapBefore(unit) + raw(line, unit.span) : "");

export const raw = (line: string, { from, to }: Span): string => line.slice(from, to);

export const gapBefore = (unit: UnitText): string => (/^["″]/.test(unit.text) ? "" : " ");

function blanksBefore(line: string, at: number): number {
  let from = at;
  while (/[ \t\u00a0]/.test(line.charAt(from - 1))) from--;
  return from;
}

function blanksBehind(line: string, at: number): number {
  let to = at;
  while (/[ \t\u00a0]/.test(line.charAt(to))) to++;
  return to;
}

/** Changes that would touch one another leave the later one out; the next formatting finds it again. */
function withChanges(line: string, part: Span, changes: readonly Change[]): string {
  let text = "";
  let at = part.from;
  for (const { span, text: put } of [...changes].sort((a, b) => a.span.from - b.span.from)) {
    if (span.from < at || span.to > part.to) continue;
    text += line.slice(at, span.from) + put;
    at = span.to;
  }
  return text + line.slice(at, part.to);
}
