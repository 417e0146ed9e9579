import type { Analysis, Finding } from "../../analysis/analysis.ts";
import { lineAt, lineEnd } from "../../text/line-index.ts";
import type { Checked } from "../checked.ts";
import type { Since } from "../formats/since.ts";

/** One value that is not what it was. */
export interface ValueChange {
  readonly name: string;
  /** As shown then and now; undefined where there was or is no such reading. */
  readonly before: string | undefined;
  readonly after: string | undefined;
  /** Line now, from 1; of the old text where the reading is gone. */
  readonly line: number;
  readonly derived: boolean;
}

/** How a note differs from an earlier state of it. */
export interface NoteChange extends Since {
  readonly values: readonly ValueChange[];
  /** Whether the note was there before at all. */
  readonly fresh: boolean;
  readonly added: readonly Finding[];
  readonly known: readonly Finding[];
}

type AnalysedFile = Checked & { readonly analysis: Analysis };

/** @param before undefined for a note that was not there */
export function compare(before: AnalysedFile | undefined, after: AnalysedFile): NoteChange {
  const { added, known, mended } = matchFindings(before, after);
  const isNew = new Set(added);
  return {
    // Of a note that was not there, every value is new; a list of them would only repeat the note.
    values: before === undefined ? [] : valueChanges(statesOf(before), statesOf(after)),
    fresh: before === undefined,
    added,
    known,
    mended: before === undefined ? [] : mended.map((finding) => ({ finding, in: before })),
    isNew: (finding) => isNew.has(finding),
  };
}

/** What a reading comes to, in words, with its place. */
interface State extends Omit<ValueChange, "before" | "after"> {
  readonly says: string;
}

/** Every named line of a note by key, those that cannot be read or worked out too. */
function statesOf({ analysis }: AnalysedFile): Map<string, State> {
  const states = new Map<string, State>();
  for (const { key, name, line, kind, shown } of analysis.values) {
    const says = shown?.text ?? "cannot be worked out";
    states.set(key, { says, name, line: line + 1, derived: kind === "derived" });
  }
  for (const { kind, label, lines } of analysis.note.blocks) {
    if (kind !== "readings") continue;
    for (const { syntax, line } of lines) {
      if (syntax.kind !== "broken" || syntax.name === undefined) continue;
      const before = label === "" ? "" : `${label} `;
      const key = `${before}${syntax.name.key}`.toLowerCase();
      const name = before + syntax.name.text;
      const place = { name, line: line + 1, derived: false };
      const known = states.get(key);
      if (!known || known.line === place.line) states.set(key, { says: "cannot be read", ...place });
    }
  }
  return states;
}

function valueChanges(before: ReadonlyMap<string, State>, after: ReadonlyMap<string, State>): ValueChange[] {
  const changes: ValueChange[] = [];
  for (const [key, { says, ...state }] of after) {
    const was = before.get(key)?.says;
    if (was !== says) changes.push({ ...state, before: was, after: says });
  }
  for (const [key, { says, ...state }] of before) {
    if (!after.has(key)) changes.push({ ...state, before: says, after: undefined });
  }
  return changes;
}

/**
 * Pairs findings of two states of a note. Lines move and numbers in messages change, so after those that say
 * the very same come those of one rule on a line of the same text, and then those of one rule about one name.
 */
function matchFindings(before: AnalysedFile | undefined, after: AnalysedFile) {
  let left = before === undefined ? [] : [...before.findings];
  let open = [...after.findings];
  const known = new Set<Finding>();
  const keys: ((finding: Finding, file: AnalysedFile) => string)[] = [
    ({ rule, message }) => `${rule} ${message}`,
    (finding, file) => `${finding.rule} ${lineOf(finding, file)}`,
    (finding, file) => `${finding.rule} ${nameOn(finding, file)}`,
  ];
  for (const key of keys) {
    if (before === undefined) break;
    const waiting = new Map<string, Finding[]>();
    for (const finding of left) {
      const named = key(finding, before);
      waiting.set(named, [...(waiting.get(named) ?? []), finding]);
    }
    open = open.filter((finding) => {
      const found = waiting.get(key(finding, after))?.shift();
      if (found === undefined) return true;
      known.add(finding);
      left = left.filter((one) => one !== found);
      return false;
    });
  }
  const { findings } = after;
  return {
    added: findings.filter((finding) => !known.has(finding)),
    known: findings.filter((finding) => known.has(finding)),
    mended: left,
  };
}

function lineOf(finding: Finding, { lines, text }: Checked): string {
  const line = lineAt(lines, finding.range.from);
  return text.slice(lines.starts[line] ?? 0, lineEnd(lines, text, line)).trim();
}

/** What stands before the colon, the equals sign or the comparison of the finding's line. */
const nameOn = (finding: Finding, file: Checked): string =>
  (lineOf(finding, file).split(/[:=<>#[]/, 1)[0] ?? "").trim().toLowerCase();
