import type { Analysis, Finding } from "../../analysis/analysis.ts";
import type { Checked } from "../checked.ts";
import type { NoteChange } from "./compare.ts";
import { type Remark, remarksOn } from "./remarks.ts";
import { TOPICS, type Topic, topicOf } from "./topics.ts";

/** A note as its reviewer is shown it. */
export interface NoteReview {
  readonly checked: Checked & { readonly analysis: Analysis };
  readonly topics: readonly ReviewedTopic[];
  readonly accepted: Analysis["accepted"];
  /** How the limits of the note came out, in a sentence; undefined where it has none. */
  readonly limits: string | undefined;
  readonly change: NoteChange | undefined;
}

export interface ReviewedTopic {
  readonly topic: Topic;
  /** By rule, in the order of their first finding. */
  readonly rules: readonly { readonly rule: string; readonly findings: readonly Finding[] }[];
  readonly remarks: readonly Remark[];
}

/** What a review compares with. */
export interface Baseline {
  /** As it was asked for, such as `main`. */
  readonly name: string;
  /** Notes that were there and are no more; as paths. */
  readonly gone: readonly string[];
  /** Shop files that changed; they may change what notes come to that did not. As paths. */
  readonly shops: readonly string[];
}

export function reviewNote(
  checked: Checked & { readonly analysis: Analysis },
  change: NoteChange | undefined,
): NoteReview {
  const { analysis } = checked;
  const remarks = remarksOn(analysis);
  const topics = TOPICS.map((topic) => ({
    topic,
    rules: byRule(analysis.findings.filter(({ rule }) => (topicOf(rule) ?? LAST).id === topic.id)),
    remarks: remarks.filter((remark) => remark.topic === topic.id),
  })).filter(({ rules, remarks: own }) => rules.length + own.length > 0);
  return { checked, topics, accepted: analysis.accepted, limits: limitsSay(analysis), change };
}

const LAST: Pick<Topic, "id"> = { id: "unreadable" };

function byRule(findings: readonly Finding[]): ReviewedTopic["rules"] {
  const rules = new Map<string, Finding[]>();
  for (const finding of findings) rules.set(finding.rule, [...(rules.get(finding.rule) ?? []), finding]);
  return [...rules].map(([rule, own]) => ({ rule, findings: own }));
}

function limitsSay({ limits }: Analysis): string | undefined {
  if (limits.length === 0) return undefined;
  const count = (verdict: (typeof limits)[number]["verdict"]): number =>
    limits.filter((limit) => limit.verdict === verdict).length;
  const parts = [
    [count("holds"), "held"],
    [count("not proven"), "not proven"],
    [count("exceeded"), "exceeded"],
  ] as const;
  const told = parts.filter(([number]) => number > 0).map(([number, word]) => `${number} ${word}`);
  return told.length === 0 ? undefined : `Limits: ${told.join(", ")}.`;
}
