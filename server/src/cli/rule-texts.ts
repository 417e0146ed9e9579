import type { RuleText } from "../report/rule-text.ts";
import { pages } from "../rules/pages.ts";
import { rules } from "../rules/registry.ts";

/** What there is to say about every rule. */
export function ruleTexts(): RuleText[] {
  return rules.flatMap(({ id, severity, why }) => {
    const page = pages.get(id);
    return page === undefined ? [] : [{ id, severity, why, page }];
  });
}
