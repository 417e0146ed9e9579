import { rangeOfEvent } from "../sequence/events.ts";
import { explainUnmet } from "../sequence/explain.ts";
import { outcomeAimedAt } from "../sequence/planned.ts";
import { appendFix } from "./append-fix.ts";
import type { Report, Subject } from "./rule.ts";

/** Needs that did not hold when their step was done, as the rule that reports them says it. */
export function* unmetNeeds({ history }: Subject, rule: string): Iterable<Report> {
  for (const unmet of history?.unmet ?? []) {
    if ((unmet.need.rule ?? "sequence/needs") !== rule || !history) continue;
    const { message, advice, related } = explainUnmet(unmet, history);
    // What was put right later stays listed, as a matter of record.
    const severity = unmet.putRightBy ? "info" : (unmet.need.severity ?? "error");
    const fixes = severity === "error" ? appendFix(history, outcomeAimedAt(history)) : [];
    yield { range: rangeOfEvent(unmet.event), severity, message, advice, related, fixes };
  }
}
