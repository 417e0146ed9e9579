import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "accept/unused",
  severity: "warning",
  why: "An accept that matches nothing would silently swallow the next finding of its kind.",
  *check({ accepts }): Iterable<Report> {
    for (const { accept, matches } of accepts) {
      if (matches || accept.reason === "") continue;
      yield {
        range: accept.range,
        message: `\`${accept.rule}\` is accepted here, but nothing of that kind is found.`,
        advice: "Take the accept away, or put it on the line or before the block that it is meant for.",
        fixes: [
          { title: "Take the accept away", edits: [{ range: accept.range, text: "" }], kind: "choice" },
        ],
      };
    }
  },
};

export const page: RulePage = {
  title: "An accept that matches nothing",
  means:
    "The note accepts a finding that is not there: it was mended since, or the accept stands in the wrong place.",
  mend: "Take the accept away, or move it.",
  fix: "Takes the comment away.",
  breaks: {
    note: "```readings\nflow: 0.4 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept limit/exceeded: new part ordered\n```\n",
  },
  keeps: {
    note: "```readings\nflow: 0.9 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept limit/exceeded: new part ordered\n```\n",
  },
};
