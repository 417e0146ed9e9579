import type { Rule, RulePage } from "./rule.ts";
import { unmetNeeds } from "./unmet-needs.ts";

export const rule: Rule = {
  id: "sequence/needs",
  severity: "error",
  why: "A step that is done before its time hurts somebody, spoils work already done, or proves nothing.",
  check: (subject) => unmetNeeds(subject, "sequence/needs"),
};

const lamp = (steps: string) =>
  `---\njob: example\nprocedure: lamp-moisture\n---\n\n\`\`\`readings\ntest pressure: 0.8 psi\n\`\`\`\n\n\`\`\`steps\n2031-03-04\n08:40  assess: droplets\n08:50  isolate power: key off\n${steps}\n\`\`\`\n`;

export const page: RulePage = {
  title: "A step done before its time",
  means:
    "A step stands here as done while something that it needs did not hold: nothing had made it so, or a later step had undone it. The finding names the step that undid it. Once the step has been done again in order, the finding stays as information, since what was done is never rewritten.",
  mend: "Make the condition hold and do the step again, on a new line. Do not change the time or the order of what was done.",
  breaks: { note: lamp("09:10  pressurize: smoke, 0.8 psi\n09:30  relieve pressure") },
  keeps: {
    note: lamp("08:55  block vents: 2 of 2\n09:10  pressurize: smoke, 0.8 psi\n09:30  relieve pressure"),
  },
};
