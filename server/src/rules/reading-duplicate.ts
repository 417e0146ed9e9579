import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "reading/duplicate",
  severity: "error",
  why: "A formula can mean only one of them; the first is taken, and the others count for nothing.",
  *check({ evaluation }): Iterable<Report> {
    for (const { again, first } of evaluation.scope.repeated) {
      yield {
        range: rangeOn(again.body.placed, again.nameSpan),
        message: `\`${again.name}\` is defined twice.`,
        advice:
          "Give the second another name, put it into a block with a label such as `readings retest`, or write repeated readings as a list.",
        related: [
          { range: rangeOn(first.body.placed, first.nameSpan), message: "It is defined here first." },
        ],
      };
    }
  },
};

export const page: RulePage = {
  title: "A name defined twice",
  means:
    "Two lines define the same name. Names are one space across the note and are compared without regard to case.",
  mend: "Rename one, label the later block (`readings retest` puts its names under `retest …`), or write one list.",
  breaks: { note: "```readings\nflow: 0.42 L/min\nflow: 0.40 L/min\n```\n" },
  keeps: { note: "```readings\nflow: 0.42, 0.40 L/min\n```\n\n```readings retest\nflow: 0.02 L/min\n```\n" },
};
