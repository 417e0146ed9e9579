import type { Analysis, Finding, TextEdit } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import type { Shop } from "../shop/shop.ts";
import { ACTION_KINDS, type ActionKind } from "./action-kinds.ts";
import { acceptEdit } from "./actions/accept.ts";
import { conversions } from "./actions/convert-unit.ts";
import { extraction } from "./actions/extract.ts";

/** An edit that somebody may choose. */
export interface Action {
  readonly title: string;
  readonly kind: ActionKind;
  readonly edits: readonly TextEdit[];
  /** The finding that it mends. */
  readonly finding?: Finding;
  /** The one obvious mend, which an editor may apply at one keystroke. */
  readonly preferred: boolean;
}

/**
 * Actions at a range: each fix of the findings there, and, when asked for by kind, the two that work on the
 * whole note. `wanted` holds the kinds asked for; a kind stands for all below it. Undefined asks for all.
 */
export function codeActions(
  analysis: Analysis,
  shop: Shop,
  range: Range,
  wanted: readonly string[] | undefined,
): Action[] {
  const actions: Action[] = [];
  const here = analysis.findings.filter((f) => f.range.to >= range.from && f.range.from <= range.to);
  if (asksFor(wanted, ACTION_KINDS.fix)) actions.push(...here.flatMap(fixesOf));
  if (asksFor(wanted, ACTION_KINDS.fixAllOfKind)) {
    for (const rule of new Set(here.map((finding) => finding.rule)))
      actions.push(...allOfKind(analysis, rule));
  }
  if (asksFor(wanted, ACTION_KINDS.accept)) {
    actions.push(...here.flatMap((finding) => accepting(analysis, finding)));
  }
  if (asksFor(wanted, ACTION_KINDS.extract)) {
    const found = extraction(analysis, range);
    if (found) {
      const title = `Give this part a name: “${found.name}”`;
      actions.push({ title, kind: ACTION_KINDS.extract, edits: found.edits, preferred: false });
    }
  }
  if (asksFor(wanted, ACTION_KINDS.rewrite)) {
    for (const { title, edits } of conversions(analysis, shop, range.from)) {
      actions.push({ title, kind: ACTION_KINDS.rewrite, edits, preferred: false });
    }
  }
  if (asksFor(wanted, ACTION_KINDS.fixAll)) {
    const { edits } = safeFixes(analysis.findings);
    if (edits.length > 0) {
      const title = "Mend everything that has one safe mend";
      actions.push({ title, kind: ACTION_KINDS.fixAll, edits, preferred: false });
    }
  }
  if (asksFor(wanted, ACTION_KINDS.recordResults)) {
    const edits = resultsOf(analysis);
    if (edits.length > 0) {
      actions.push({ title: "Record results", kind: ACTION_KINDS.recordResults, edits, preferred: false });
    }
  }
  return actions;
}

function fixesOf(finding: Finding): Action[] {
  const onlyOne = finding.fixes.length === 1;
  // A mend that the note has already taken up has nothing left to write.
  const left = finding.fixes.filter((fix) => fix.edits.length > 0);
  return left.map((fix) => ({
    title: fix.title,
    kind: ACTION_KINDS.fix,
    edits: fix.edits,
    finding,
    preferred: onlyOne && fix.kind === "safe",
  }));
}

/** Mends every finding of a rule that has one safe mend, where there are several. */
function allOfKind(analysis: Analysis, rule: string): Action[] {
  const alike = analysis.findings.filter((finding) => finding.rule === rule);
  const { edits, findings } = safeFixes(alike);
  if (findings < 2) return [];
  const title = `Mend all ${findings} of this kind`;
  return [{ title, kind: ACTION_KINDS.fixAllOfKind, edits, preferred: false }];
}

function accepting(analysis: Analysis, finding: Finding): Action[] {
  const edit = acceptEdit(analysis.note, finding);
  if (!edit) return [];
  const title = `Accept this (${finding.rule}): write the reason`;
  return [{ title, kind: ACTION_KINDS.accept, edits: [edit], finding, preferred: false }];
}

const results = new WeakMap<Analysis, readonly TextEdit[]>();

/** Editors ask for actions at every move of the cursor; the note's results are the same each time. */
function resultsOf(analysis: Analysis): readonly TextEdit[] {
  const known = results.get(analysis) ?? analysis.recordResults();
  results.set(analysis, known);
  return known;
}

const asksFor = (wanted: readonly string[] | undefined, kind: string): boolean =>
  wanted === undefined ||
  wanted.some((asked) => asked === kind || asked === "" || kind.startsWith(`${asked}.`));

/**
 * Edits of every safe fix that can be made at once, in the order of the note. A finding with several fixes
 * leaves a choice, which is a person's. Where two fixes touch, the first wins and the other waits for the
 * next round.
 */
function safeFixes(all: readonly Finding[]): { edits: TextEdit[]; findings: number } {
  const taken: TextEdit[] = [];
  let findings = 0;
  for (const finding of all) {
    const [fix, second] = finding.fixes;
    if (!fix || second || fix.kind !== "safe") continue;
    if (fix.edits.some((edit) => taken.some((other) => touch(edit.range, other.range)))) continue;
    taken.push(...fix.edits);
    findings++;
  }
  return { edits: taken.sort((a, b) => a.range.from - b.range.from), findings };
}

const touch = (a: Range, b: Range): boolean => a.from <= b.to && b.from <= a.to;
