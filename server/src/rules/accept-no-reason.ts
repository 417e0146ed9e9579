import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "accept/no-reason",
  severity: "warning",
  why: "Whoever reads the note later must see why a finding was let stand; without a reason it is not accepted.",
  *check({ accepts, ruleIds }): Iterable<Report> {
    for (const { accept } of accepts) {
      // A rule that there is not is told of by itself.
      if (accept.reason !== "" || !ruleIds.includes(accept.rule)) continue;
      yield {
        range: accept.range,
        message: `\`${accept.rule}\` is accepted without a reason.`,
        advice:
          "Write the reason behind a colon, as in `accept limit/exceeded: agreed with the customer, part to follow`.",
      };
    }
  },
};

export const page: RulePage = {
  title: "A finding is accepted without a reason",
  means: "The note accepts a finding but does not say why. The finding stays listed until it does.",
  mend: "Write the reason behind the rule's name and a colon.",
  breaks: {
    note: "```readings\nflow: 0.9 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept limit/exceeded\n```\n",
  },
  keeps: {
    note: "```readings\nflow: 0.9 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept limit/exceeded: new part ordered, vehicle stays here\n```\n",
  },
};
