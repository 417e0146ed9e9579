import { OUTCOME_WORDS } from "../procedures/outcome-words.ts";
import { eventInWords, rangeOfEvent } from "../sequence/events.ts";
import { listOf, waysToShow } from "../sequence/explain.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "sequence/no-outcome",
  severity: "warning",
  why: "A test whose outcome is not written down proves nothing to whoever reads the note next.",
  *check({ history }): Iterable<Report> {
    for (const { event, lacks } of history?.unproved ?? []) {
      const range = rangeOfEvent(event);
      const step = eventInWords(event);
      if (lacks === "reason") {
        yield {
          range,
          message: `${step} gives no reason.`,
          advice: "Say what is left and why, as in `leave [vent]: open by design`.",
        };
      } else if (lacks === "outcome" && event.step.outcome) {
        const words = OUTCOME_WORDS[event.step.outcome].map((word) => `\`${word}\``);
        const said = event.syntax.outcome?.word;
        yield {
          range,
          message: said
            ? `${step} says \`${said}\`, and not ${listOf(words)}.`
            : `${step} does not say ${listOf(words)}.`,
          advice: `Start its remark with one of these words. Until then it proves nothing.`,
        };
      } else if (lacks === "evidence" && event.step.evidence) {
        const { says, anyOf, missing } = event.step.evidence;
        yield {
          range,
          severity: missing,
          message: `${step} does not show ${says}.`,
          advice: `To show it, ${listOf(waysToShow(anyOf))}.`,
        };
      }
    }
  },
};

const lamp = (steps: string) =>
  `---\njob: example\nprocedure: lamp-moisture\n---\n\n\`\`\`steps\n2031-03-04\n${steps}\n\`\`\`\n`;

export const page: RulePage = {
  title: "A step that does not say how it came out",
  means:
    "A test or a look starts its remark with `found` or `none`, `pass` or `fail`. A step that rests on evidence, such as drying, needs that evidence. Something left on purpose needs its reason.",
  mend: "Write the outcome as the remark's first word, or the evidence that the finding names.",
  breaks: { note: lamp("08:40  assess: wet inside") },
  keeps: { note: lamp("08:40  assess: droplets, wet inside") },
};
