import type { Severity } from "../analysis/analysis.ts";
import type { RulePage } from "../rules/rule.ts";

/** What there is to say about a rule, apart from the rule's own work. */
export interface RuleText {
  readonly id: string;
  readonly severity: Severity;
  readonly why: string;
  readonly page: RulePage;
}
