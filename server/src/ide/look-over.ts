import type { Analysis, Finding } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";

/** One note at a glance: how its job stands, and every finding, the accepted ones too. */
export interface NoteLook {
  readonly job: string | undefined;
  readonly subject: string | undefined;
  readonly status: "open" | "done" | undefined;
  readonly stepsToDo: number;
  readonly findings: readonly LookedFinding[];
}

export interface LookedFinding extends Pick<Finding, "rule" | "severity" | "message" | "advice"> {
  readonly range: Range;
  /** Why the note accepts it. */
  readonly accepted: string | undefined;
}

export function lookOver({ note, findings, accepted }: Analysis): NoteLook {
  const { job, subject, status } = note.frontMatter.fields;
  let stepsToDo = 0;
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { syntax } of block.lines)
      if (syntax.kind === "step" && syntax.time.minutes === undefined) stepsToDo++;
  }
  const looked = ({ rule, severity, message, advice, range }: Finding, reason?: string): LookedFinding => ({
    rule,
    severity,
    message,
    advice,
    range,
    accepted: reason,
  });
  return {
    job,
    subject,
    status,
    stepsToDo,
    findings: [
      ...findings.map((finding) => looked(finding)),
      ...accepted.map(({ finding, reason }) => looked(finding, reason)),
    ].sort((a, b) => a.range.from - b.range.from),
  };
}
