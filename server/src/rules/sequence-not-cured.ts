import type { Rule, RulePage } from "./rule.ts";
import { unmetNeeds } from "./unmet-needs.ts";

export const rule: Rule = {
  id: "sequence/not-cured",
  severity: "error",
  why: "Fresh sealant moves under pressure, water and handling: the test proves nothing, and the bead leaks later.",
  check: (subject) => unmetNeeds(subject, "sequence/not-cured"),
};

const general = (steps: string) =>
  `---\njob: example\nprocedure: general\n---\n\n\`\`\`steps\n2031-03-04\n08:40  assess [cover]: found\n08:50  seal [cover]: silicone\n${steps}\n\`\`\`\n`;

export const page: RulePage = {
  title: "Tested or fitted before the sealant has cured",
  means:
    "A step that fresh sealant does not stand was done before its cure time had passed. The cure time is the note's reading `cure time`, else that of the shop file's material named in the remark, else 24 h.",
  mend: "Wait out the cure time and do the step again. If the data sheet gives another time, take it as a reading `cure time` or put the material into the shop file and name it in the remark.",
  source: "24 h where nobody says otherwise: common practice, no source; the sealant's data sheet wins.",
  breaks: { note: general("09:30  water test [cover]: pass") },
  keeps: { note: general("2031-03-05\n09:30  water test [cover]: pass") },
};
