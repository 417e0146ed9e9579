import type { Analysis, Finding, Severity } from "../../analysis/analysis.ts";
import type { Block } from "../../note/note.ts";
import { lineAt } from "../../text/line-index.ts";
import { type Html, html, sentence } from "./html.ts";
import { mark, SEVERITY } from "./marks.ts";

/** A finding as the sheet shows it; `reason` is why the note accepts it. */
export interface SheetFinding {
  readonly finding: Finding;
  readonly reason: string | undefined;
  /** Line in the note, from 0. */
  readonly line: number;
}

/** The findings of an analysis by where they stand; found once, since every block asks. */
interface Places {
  readonly byBlock: ReadonlyMap<Block, readonly SheetFinding[]>;
  readonly outside: readonly SheetFinding[];
}

const known = new WeakMap<Analysis, Places>();

function placesOf(analysis: Analysis): Places {
  const before = known.get(analysis);
  if (before) return before;
  const { blocks } = analysis.note;
  const byBlock = new Map<Block, SheetFinding[]>();
  const outside: SheetFinding[] = [];
  let next = 0;
  for (const found of inOrder(analysis)) {
    const { from } = found.finding.range;
    // Blocks stand in the order of the note too, and never one in another.
    while (next < blocks.length && (blocks[next]?.range.to ?? 0) < from) next++;
    const block = blocks[next];
    if (!block || block.range.from > from) {
      outside.push(found);
      continue;
    }
    const list = byBlock.get(block);
    if (list) list.push(found);
    else byBlock.set(block, [found]);
  }
  const places = { byBlock, outside };
  known.set(analysis, places);
  return places;
}

/** Every finding of the note, the accepted ones too, in the order of the note. */
function inOrder({ findings, accepted, note }: Analysis): readonly SheetFinding[] {
  const at = (finding: Finding) => lineAt(note.lines, finding.range.from);
  return [
    ...findings.map((finding) => ({ finding, reason: undefined, line: at(finding) })),
    ...accepted.map(({ finding, reason }) => ({ finding, reason, line: at(finding) })),
  ].sort((a, b) => a.finding.range.from - b.finding.range.from);
}

export const findingsIn = (analysis: Analysis, block: Block): readonly SheetFinding[] =>
  placesOf(analysis).byBlock.get(block) ?? [];

/** The findings of a block, ready to be put under their lines; `loose` are those that belong to no line of it. */
export interface ByLine {
  at(line: number): readonly SheetFinding[];
  readonly loose: readonly SheetFinding[];
}

export function findingsByLine(analysis: Analysis, block: Block): ByLine {
  const lines = new Set(block.lines.map(({ line }) => line));
  const byLine = new Map<number, SheetFinding[]>();
  const loose: SheetFinding[] = [];
  for (const found of findingsIn(analysis, block)) {
    const list = lines.has(found.line) ? (byLine.get(found.line) ?? []) : loose;
    list.push(found);
    if (list !== loose) byLine.set(found.line, list);
  }
  return { at: (line) => byLine.get(line) ?? [], loose };
}

/** Findings that stand in no block: in the front matter and in the prose. */
export const findingsOutside = (analysis: Analysis): readonly SheetFinding[] => placesOf(analysis).outside;

/** A list of findings; nothing where there are none. `numbered` names the lines, for where no line is near. */
export function findingsList(findings: readonly SheetFinding[], numbered = false): Html | undefined {
  if (findings.length === 0) return undefined;
  return html`<ul class="wm-findings">${findings.map((found) => html`<li>${findingSays(found, numbered)}</li>`)}</ul>`;
}

function findingSays({ finding, reason, line }: SheetFinding, numbered: boolean): Html {
  const { word, mark: which } = SEVERITY[finding.severity];
  const accepted = reason !== undefined;
  return html`<p class="${accepted ? "wm-accepted" : `wm-${finding.severity}`}">${mark(
    accepted ? "aside" : which,
  )} <strong>${accepted ? `Accepted (${word.toLowerCase()})` : word}${numbered ? `, line ${line + 1}` : ""}.</strong> ${sentence(
    finding.message,
  )} ${accepted ? html`<em>Reason given: ${reason}</em>` : sentence(finding.advice)} <span class="wm-rule">${finding.rule}</span></p>`;
}

const WORDS: readonly (readonly [Severity, string, string])[] = [
  ["error", "error", "errors"],
  ["warning", "warning", "warnings"],
  ["info", "for information", "for information"],
];

/** `2 errors, 1 warning, 1 accepted`; `nothing to report` where there is nothing. */
export function tally({ findings, accepted }: Pick<Analysis, "findings" | "accepted">): string {
  const parts: string[] = [];
  for (const [severity, one, many] of WORDS) {
    const count = findings.filter((finding) => finding.severity === severity).length;
    if (count > 0) parts.push(`${count} ${count === 1 ? one : many}`);
  }
  if (accepted.length > 0) parts.push(`${accepted.length} accepted with a reason`);
  return parts.length === 0 ? "nothing to report" : parts.join(", ");
}
