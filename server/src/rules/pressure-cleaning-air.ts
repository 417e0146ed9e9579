import { heldAgainstDefaults } from "./default-limits.ts";
import { shownIn } from "./limited-values.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "pressure/cleaning-air",
  severity: "error",
  why: "Compressed air drives chips into eyes and air through the skin; for cleaning it must stay below 30 psi, with guarding and eye protection.",
  *check(subject): Iterable<Report> {
    for (const { value, verdict, bound, limit } of heldAgainstDefaults(subject, "pressure/cleaning-air")) {
      if (verdict === "inside" || bound === undefined) continue;
      yield {
        range: value.range,
        severity: verdict,
        message: `${shownIn(value.si, value.unit)} is too much for ${limit.assembly}: it must stay below ${shownIn(bound, value.unit)}.`,
        advice: `Turn the regulator down or use a nozzle that keeps below it. The figure is from: ${limit.source}.`,
      };
    }
  },
};

const general = (pressure: string) =>
  `---\njob: example\nprocedure: general\n---\n\n\`\`\`steps\n2031-03-04\n09:10  blow out [connector]: ${pressure}, goggles on\n\`\`\`\n`;

export const page: RulePage = {
  title: "Too much air pressure for cleaning",
  means: "Compressed air for cleaning, drying or blowing out is at 30 psi or more.",
  mend: "Stay below 30 psi, with guarding and eye protection, and never point it at anybody.",
  source:
    "29 CFR 1910.242(b): less than 30 psi, with effective chip guarding and personal protective equipment.",
  breaks: { note: general("90 psi") },
  keeps: { note: general("20 psi") },
};
