import { unsupported } from "../sequence/claims.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "review/unsupported",
  severity: "info",
  why: "The customer pays for what `cause` and `correction` say; every word of them should rest on a step or a reading.",
  *check({ note, history }): Iterable<Report> {
    if (!history) return;
    for (const { field, says, advice } of unsupported(history)) {
      yield { range: note.frontMatter.at.get(field) ?? note.frontMatter.range, message: says, advice };
    }
  },
};

const general = (steps: string) =>
  `---\njob: example\nprocedure: general\ncause: lower hose leaks\ncorrection: hose replaced\ndate: 2031-03-04\nstatus: done\noutcome: replaced\n---\n\n\`\`\`steps\n08:40  locate [lower hose]: found, drips\n${steps}09:30  function check: pass\n\`\`\`\n`;

export const page: RulePage = {
  title: "A cause or a correction that no step stands behind",
  means:
    "`cause` names a leak that no step found, or another place than the steps found; or `correction` names work that is not among the steps done.",
  mend: "Write down the step as it was done, or say in `cause` and `correction` what really was. It is information only: the checker reads a few everyday words and not the sense.",
  breaks: { note: general("") },
  keeps: { note: general("09:10  replace [lower hose]: new hose\n") },
};
