import type { Rule, RulePage } from "./rule.ts";
import { unmetNeeds } from "./unmet-needs.ts";

export const rule: Rule = {
  id: "sequence/not-dry",
  severity: "error",
  why: "Water that is sealed in comes back as droplets, corrosion and the same customer.",
  check: (subject) => unmetNeeds(subject, "sequence/not-dry"),
};

const lamp = (steps: string) =>
  `---\njob: example\nprocedure: lamp-moisture\n---\n\n\`\`\`steps\n2031-03-04\n08:40  assess: droplets\n08:50  isolate power: key off\n09:00  locate [lower seam]: found, crack seen in the seam\n${steps}\n\`\`\`\n`;

export const page: RulePage = {
  title: "Sealed or closed before it is dry",
  means: "Sealant was applied, or the housing closed, while nothing showed that the inside is dry.",
  mend: "Open it, let the water out, dry it with the vents open, look again after it has cooled, and seal it anew.",
  breaks: {
    note: lamp("09:05  drain\n09:10  clean [lower seam]: alcohol wipe\n09:20  seal [lower seam]: silicone"),
  },
  keeps: {
    note: lamp(
      "09:05  drain\n09:10  dry: fan, until 11:10\n11:40  inspect: none\n11:50  clean [lower seam]: alcohol wipe\n12:00  seal [lower seam]: silicone",
    ),
  },
};
