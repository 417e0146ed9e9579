import type { Rule, RulePage } from "./rule.ts";
import { unmetNeeds } from "./unmet-needs.ts";

export const rule: Rule = {
  id: "pressure/no-limit",
  severity: "warning",
  why: "Without a limit nobody knows which part lets go first, or when.",
  check: (subject) => unmetNeeds(subject, "pressure/no-limit"),
};

const boost = (limits: string) =>
  `---\njob: example\nprocedure: general\n---\n\n\`\`\`readings\ntest pressure: 0.5 psi\n\`\`\`\n${limits}\n\`\`\`steps\n2031-03-04\n09:10  pressurize: 0.5 psi\n09:30  relieve pressure\n\`\`\`\n`;

export const page: RulePage = {
  title: "Put under pressure without a known limit",
  means:
    "Something was pressurized, and neither the note, nor the shop file, nor the procedure gives a limit for the test pressure. For a boost tract that is an error.",
  mend: "Look up what the weakest part stands and write it into a limits block with its source, as in `test pressure <= 1 psi   source: service information`.",
  breaks: { note: boost("") },
  keeps: { note: boost("\n```limits\ntest pressure <= 1 psi   source: service information\n```\n") },
};
