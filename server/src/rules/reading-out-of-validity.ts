import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "reading/out-of-validity",
  severity: "warning",
  why: "Outside the range that a formula was made for its result may be far off, or there is none.",
  *check(subject): Iterable<Report> {
    for (const { problem, placed } of subject.problems("reading/out-of-validity")) {
      yield {
        range: rangeOn(placed, problem.span),
        message: problem.says.join(" "),
        advice: problem.value
          ? "Check the readings that go in. If they are right, take the result as a rough guide at most."
          : "Check the readings that go in, their units and their order.",
      };
    }
  },
};

export const page: RulePage = {
  title: "A function outside its range",
  means: "A function is used with values for which its formula does not hold or has no result.",
  mend: "Check the readings and their units. If they are right, do not rely on the result.",
  source: "Each function's entry names its range and source.",
  breaks: { note: "```readings\ndraw: 4 A\nspare: 0 A.h\nfactor = draw / spare\n```\n" },
  keeps: { note: "```readings\ndraw: 4 A\nspare: 20 A.h\nhours [h] = spare / draw\n```\n" },
};
