/** What a reviewer looks for, in the order of a review. Every rule belongs to one of these. */
export interface Topic {
  readonly id: "risk" | "order" | "missing" | "unsupported" | "calibration" | "stale" | "unreadable";
  readonly heading: string;
  /** What the topic is about, to somebody who learns to write such notes. */
  readonly says: string;
}

export const TOPICS: readonly Topic[] = [
  {
    id: "risk",
    heading: "At risk",
    says: "What can hurt somebody or a part, or went beyond its limit.",
  },
  {
    id: "order",
    heading: "Out of order",
    says: "Steps that came too early, or before what they rest on.",
  },
  {
    id: "missing",
    heading: "Missing",
    says: "What a reader of the note will look for in vain.",
  },
  {
    id: "unsupported",
    heading: "Unsupported",
    says: "What the note says, and what nothing in it carries.",
  },
  {
    id: "calibration",
    heading: "Out of calibration",
    says: "Readings by an instrument whose calibration was over.",
  },
  {
    id: "stale",
    heading: "Out of date",
    says: "What was right once and no longer fits the rest.",
  },
  {
    id: "unreadable",
    heading: "Cannot be read or worked out",
    says: "Lines that say nothing to the checker, and perhaps something else to the next reader.",
  },
];

type TopicId = Topic["id"];

const BY_RULE: Readonly<Record<string, TopicId>> = {
  "limit/exceeded": "risk",
  "limit/not-proven": "unsupported",
  "moisture/not-dry": "order",
  "moisture/too-hot": "risk",
  "pressure/no-limit": "missing",
  "reading/missing": "missing",
  "reading/stale-result": "stale",
  "reading/implausible": "unsupported",
  "reading/out-of-validity": "unsupported",
  "sequence/incomplete": "missing",
  "sequence/left-behind": "missing",
  "sequence/no-outcome": "missing",
  "note/front-matter": "missing",
  "note/missing-file": "missing",
  "instrument/calibration-due": "calibration",
  "accept/no-reason": "missing",
  "accept/unused": "stale",
};

const BY_FAMILY: Readonly<Record<string, TopicId>> = {
  accept: "stale",
  electrical: "risk",
  instrument: "unsupported",
  limit: "risk",
  moisture: "risk",
  note: "unreadable",
  pressure: "risk",
  reading: "unreadable",
  review: "unsupported",
  sequence: "order",
  unit: "unreadable",
};

/** The topic of a rule; undefined for a family that nobody has given one. */
export function topicOf(rule: string): Topic | undefined {
  const id = BY_RULE[rule] ?? BY_FAMILY[rule.split("/")[0] ?? ""];
  return TOPICS.find((topic) => topic.id === id);
}
