import type { Job } from "../job.ts";

/** The ways in which a job may go that every procedure has to stand. */
export const KINDS = [
  "clean",
  "retest failed and done again",
  "two places",
  "replaced instead of sealed",
  "overnight",
  "no fault found",
  "handed over",
  "comeback",
] as const;

export type Kind = (typeof KINDS)[number];

export const PROCEDURES = [
  "lamp-moisture",
  "evap-leak",
  "cooling-pressure",
  "key-off-draw",
  "boost-leak",
  "intake-leak",
  "exhaust-leak",
  "crankcase-leak",
  "module-enclosure-leak",
  "cabin-water-leak",
  "tester-comparison",
  "general",
] as const;

/** One way a job went, and what a foreman would say to it. */
export interface Way {
  readonly kind: Kind;
  readonly says: string;
  readonly job: Omit<Job, "procedure">;
  /** Severity, rule and the step it stands on, in the order of the note. */
  readonly expected: readonly string[];
}

export interface WholeJobs {
  readonly procedure: (typeof PROCEDURES)[number];
  readonly ways: readonly Way[];
}

export const needs = (step: string): string => `error sequence/needs: ${step}`;
export const unfair = (step: string): string => `warning sequence/needs: ${step}`;
/** Done too early, and done again in order later on. */
export const putRight = (step: string): string => `info sequence/needs: ${step}`;
export const left = (step: string): string => `error sequence/left-behind: ${step}`;
export const uncured = (step: string): string => `error sequence/not-cured: ${step}`;
export const wet = (step: string): string => `error sequence/not-dry: ${step}`;
export const INCOMPLETE = "error sequence/incomplete: outcome";
/** Of a job still open: what is still missing, as information. */
export const OPEN = "info sequence/incomplete: status";

export const COMEBACK = { head: ["date: 2031-03-04", "comeback of: 2031-0012"] };
export const NEXT_DAY = "2031-03-05";

const at = (steps: readonly string[], time: string): number => {
  const found = steps.filter((line) => line.startsWith(`${time}  `)).length;
  if (found !== 1) throw new Error(`${found} lines at ${time}`);
  return steps.findIndex((line) => line.startsWith(`${time}  `));
};

/** The steps without those at these times. */
export function less(steps: readonly string[], ...times: readonly string[]): readonly string[] {
  const gone = new Set(times.map((time) => at(steps, time)));
  return steps.filter((_, index) => !gone.has(index));
}

/** The steps with others in place of the one at the time of the first of them. */
export function instead(steps: readonly string[], ...lines: readonly string[]): readonly string[] {
  const index = at(steps, (lines[0] ?? "").slice(0, 5));
  return [...steps.slice(0, index), ...lines, ...steps.slice(index + 1)];
}

/** The steps up to and with the one at this time. */
export const upTo = (steps: readonly string[], time: string): readonly string[] =>
  steps.slice(0, at(steps, time) + 1);
