import { marginInWords } from "./limit-exceeded.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "limit/not-proven",
  severity: "warning",
  why: "The value may lie beyond its limit and still read like this, so the reading does not prove that the limit holds.",
  *check(subject): Iterable<Report> {
    for (const outcome of subject.limits.outcomes) {
      if (outcome.verdict !== "not proven") continue;
      const words = marginInWords(outcome, subject);
      yield {
        range: rangeOn(outcome.placed, outcome.span),
        message: words
          ? `\`${words.name}\` is ${words.value}, inside its limit of ${words.limit} by ${words.room}: less than the uncertainty of ${words.uncertainty}.`
          : "This limit holds by less than the uncertainty.",
        advice: "Keep further away from the limit, or measure with a finer or better instrument.",
      };
    }
  },
};

export const page: RulePage = {
  title: "A limit that is not proven",
  means: "The value lies inside its limit by less than its expanded uncertainty (k = 2).",
  mend: "Stay further from the limit, repeat the reading, or use a better instrument.",
  source: "ISO 14253-1 and JCGM 106:2012: conformity is proven only inside the limit by the uncertainty.",
  breaks: {
    note: "```readings\ntest pressure: 0.97 psi ± 0.05 psi\n```\n\n```limits\ntest pressure <= 1 psi\n```\n",
  },
  keeps: {
    note: "```readings\ntest pressure: 0.80 psi ± 0.05 psi\n```\n\n```limits\ntest pressure <= 1 psi\n```\n",
  },
};
