import type { Comment } from "../language/syntax.ts";
import { markedLines } from "../note/marked-lines.ts";
import type { Note, Range } from "../note/note.ts";
import { lineAt } from "../text/line-index.ts";
import type { Finding } from "./analysis.ts";

/** An `accept RULE: reason` of the note, on a line or before a block. */
export interface Accept {
  /** Empty where none is named. */
  readonly rule: string;
  readonly reason: string;
  /** The whole comment. */
  readonly range: Range;
  /** Where findings are accepted. */
  readonly covers: Range;
}

/** With a blank for the slash it may be anybody's remark, or a rule's name that was mistyped. */
const ACCEPT =
  /^accept\s+([a-z][a-z-]*\/[a-z][a-z-]*|[a-z][a-z-]* [a-z][a-z-]*(?=\s*:))\s*(?::\s*([\s\S]*))?$/i;

/** `accept: reason`, which does not say what. Its rule is an empty text. */
const NAMELESS = /^accept\s*:\s*([\s\S]*)$/i;

function read(text: string): Pick<Accept, "rule" | "reason"> | undefined {
  const match = ACCEPT.exec(text);
  if (match) return { rule: (match[1] ?? "").toLowerCase(), reason: (match[2] ?? "").trim() };
  const nameless = NAMELESS.exec(text);
  return nameless ? { rule: "", reason: (nameless[1] ?? "").trim() } : undefined;
}

/** Every accept of a note, in order. */
export function acceptsOf(note: Note): readonly Accept[] {
  const accepts: Accept[] = [];
  for (const comment of note.accepts) {
    const accept = read(comment.text);
    const block = comment.block === undefined ? undefined : note.blocks[comment.block];
    if (accept) {
      accepts.push({
        ...accept,
        range: comment.range,
        covers: block ? block.range : { from: comment.range.from, to: comment.range.from },
      });
    }
  }
  for (const { block, index } of markedLines(note, "accept")) {
    const placed = block.lines[index];
    if (!placed) continue;
    const { syntax, offset, length } = placed;
    const { comment } = syntax as { comment?: Comment };
    const accept = comment && read(comment.text);
    if (!comment || !accept) continue;
    accepts.push({
      ...accept,
      range: { from: offset + comment.span.from, to: offset + comment.span.to },
      covers: { from: offset, to: offset + length },
    });
  }
  return accepts;
}

export interface AcceptOutcome {
  readonly accept: Accept;
  /** Whether a finding stands where it accepts one. */
  readonly matches: boolean;
  /** The rules of the findings that stand where it accepts, for an accept that names none. */
  readonly standing: readonly string[];
}

export interface Accepted {
  /** Findings that are not accepted. */
  readonly findings: Finding[];
  readonly accepted: readonly { readonly finding: Finding; readonly reason: string }[];
  readonly accepts: readonly AcceptOutcome[];
}

/** Sets accepted findings apart. An accept without a reason accepts nothing. */
export function acceptFindings(note: Note, all: readonly Finding[]): Accepted {
  const accepts = acceptsOf(note);
  if (accepts.length === 0) return { findings: [...all], accepted: [], accepts: [] };
  const used = new Set<Accept>();
  const findings: Finding[] = [];
  const accepted: { finding: Finding; reason: string }[] = [];
  for (const finding of all) {
    const accept = accepts.find((a) => a.rule === finding.rule && covers(note, a, finding.range));
    if (accept) used.add(accept);
    if (accept && accept.reason !== "") accepted.push({ finding, reason: accept.reason });
    else findings.push(finding);
  }
  const outcome = (accept: Accept): AcceptOutcome => ({
    accept,
    matches: used.has(accept),
    standing:
      accept.rule === ""
        ? [...new Set(findings.flatMap(({ rule, range }) => (covers(note, accept, range) ? [rule] : [])))]
        : [],
  });
  return { findings, accepted, accepts: accepts.map(outcome) };
}

function covers(note: Note, accept: Accept, range: Range): boolean {
  if (range.from >= accept.covers.from && range.from <= accept.covers.to) return true;
  return lineAt(note.lines, range.from) === lineAt(note.lines, accept.covers.from);
}
