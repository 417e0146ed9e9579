import type { Finding, TextEdit } from "../../server/src/analysis/analysis.ts";
import { historyOf } from "../../server/src/check/job-history.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedure } from "../../server/src/procedures/load.ts";
import type { Procedure } from "../../server/src/procedures/procedure.ts";
import type { History } from "../../server/src/sequence/history.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";
import { lineAt } from "../../server/src/text/line-index.ts";
import { analyzeText } from "../support/analyze-text.ts";

/** A job note for tests of what is done in which order. */
export interface Job {
  readonly procedure: string;
  /** Lines of the steps block. */
  readonly steps: readonly string[];
  readonly status?: "open" | "done";
  readonly outcome?: string;
  readonly readings?: readonly string[];
  readonly limits?: readonly string[];
  /** Further lines of the front matter. */
  readonly head?: readonly string[];
  readonly shop?: string;
}

export function noteOf({ procedure, steps, status = "done", outcome = "repaired", ...more }: Job): string {
  const { readings = [], limits = [], head = [] } = more;
  const block = (kind: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [`\`\`\`${kind}`, ...lines, "```", ""];
  return [
    "---",
    "job: 2031-0042",
    `procedure: ${procedure}`,
    `status: ${status}`,
    ...(status === "done" ? [`outcome: ${outcome}`] : outcome === "repaired" ? [] : [`outcome: ${outcome}`]),
    ...head,
    "---",
    "",
    ...block("readings", readings),
    ...block("limits", limits),
    ...block("steps", steps),
  ].join("\n");
}

const OWN = /^(?:sequence|pressure)\//;

/** Findings of the rules about steps and pressures, as "severity rule: the line without its time". */
export function findingsOf(job: Job): readonly string[] {
  return listed(noteOf(job), job.shop);
}

export function listed(text: string, shop?: string): readonly string[] {
  const { findings, note } = analyzeText(text, { shop });
  return findings
    .filter((finding) => OWN.test(finding.rule))
    .map((finding) => `${finding.severity} ${finding.rule}: ${lineOf(text, note.lines, finding)}`);
}

function lineOf(text: string, lines: Parameters<typeof lineAt>[0], finding: Finding): string {
  const line = text.split("\n")[lineAt(lines, finding.range.from)] ?? "";
  return line.replace(/^(?:\d\d:\d\d|--:--) +/, "").replace(/:.*$/, "");
}

/** Findings of a text, for tests of messages and fixes. */
export const analysed = (job: Job): readonly Finding[] =>
  analyzeText(noteOf(job), { shop: job.shop }).findings.filter((finding) => OWN.test(finding.rule));

export function withEdits(text: string, edits: readonly TextEdit[]): string {
  return [...edits]
    .sort((a, b) => b.range.from - a.range.from || b.range.to - a.range.to)
    .reduce((made, { range, text: put }) => made.slice(0, range.from) + put + made.slice(range.to), text);
}

/** The text with the steps of the mend written into it. */
export function mended(text: string, shop?: string): string {
  const finding = analyzeText(text, { shop }).findings.find(
    (one) => OWN.test(one.rule) && one.fixes.some((fix) => fix.title.startsWith("Write down the steps")),
  );
  const fix = finding?.fixes.find((one) => one.title.startsWith("Write down the steps"));
  return fix ? withEdits(text, fix.edits) : text;
}

/** Lines of the steps block that were added, with `+` before them. */
export const addedBy = (before: string, after: string): readonly string[] => {
  const left = before.split("\n");
  return after.split("\n").filter((line) => {
    const at = left.indexOf(line);
    if (at < 0) return true;
    left.splice(at, 1);
    return false;
  });
};

export function procedureOf(id: string): Procedure {
  const found = builtInProcedure(id);
  if (!found) throw new Error(`${id} is not there`);
  return found;
}

/** The history of a job by any procedure, without a shop file. */
export function historyFor(procedure: Procedure, steps: readonly string[]): History {
  const note = readNote(noteOf({ procedure: procedure.id, steps, status: "open" }), readYaml);
  const shop = noShop([procedure]);
  const history = historyOf(note, shop);
  if (!history) throw new Error("no history");
  return history;
}
