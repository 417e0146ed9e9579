import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "reading/circular",
  severity: "error",
  why: "Each of these values waits for the next, so none can ever be worked out.",
  *check({ evaluation }): Iterable<Report> {
    for (const circle of evaluation.circles) {
      // Told from the line that stands first in the note.
      const start = circle.reduce(
        (best, one, i) => (one.body.placed.line < (circle[best]?.body.placed.line ?? 0) ? i : best),
        0,
      );
      const turned = [...circle.slice(start), ...circle.slice(0, start)];
      const first = turned[0];
      if (!first) continue;
      const path = [...turned, first].map((definition) => `\`${definition.name}\``).join(" → ");
      yield {
        range: rangeOn(first.body.placed, first.nameSpan),
        message:
          turned.length === 1
            ? `\`${first.name}\` is defined by itself.`
            : `These definitions go round in a circle: ${path}.`,
        advice: "Break the circle: write one of them as a reading with a colon, or rewrite its formula.",
        related: turned.slice(1).map((definition) => ({
          range: rangeOn(definition.body.placed, definition.nameSpan),
          message: `\`${definition.name}\` is part of the circle.`,
        })),
      };
    }
  },
};

export const page: RulePage = {
  title: "Definitions in a circle",
  means: "A definition leads back to itself, directly or through others. The whole circle is shown.",
  mend: "Write one of the values as a reading, or rewrite its formula without the others.",
  breaks: { note: "```readings\nflow = leak rate / drop\nleak rate = flow * drop\ndrop: 0.8 psi\n```\n" },
  keeps: { note: "```readings\nflow: 0.42 L/min\nleak rate [Pa.m3/s] = flow * drop\ndrop: 0.8 psi\n```\n" },
};
