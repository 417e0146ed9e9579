import { eventInWords } from "../sequence/events.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "sequence/time-order",
  severity: "warning",
  why: "Cure and cooling times are worked out from these times; one that runs back makes them wrong.",
  *check({ note, history }): Iterable<Report> {
    for (const { placed, span, kind, before, nextDay } of history?.events.slips ?? []) {
      const range = rangeOn(placed, span);
      const after = before ? eventInWords(before) : "the line above";
      if (kind === "date") {
        yield {
          range,
          message: "This day lies before the one above it.",
          advice: "Put the days in order, or correct the date.",
        };
      } else if (kind === "until") {
        yield {
          range,
          message: "This step ends before it begins.",
          advice: "Correct the time or the date after `until`.",
        };
      } else {
        const start = note.lines.starts[placed.line] ?? placed.offset;
        // The line may stand in a quotation or a list; a new line wants the same before it.
        const indent = note.text.slice(start, placed.offset);
        yield {
          range,
          message: `This time lies before ${after}.`,
          advice:
            nextDay === undefined
              ? "If a new day has begun, put its date on a line of its own above; else correct the time."
              : `If a new day has begun, put \`${nextDay}\` on a line of its own above; else correct the time.`,
          fixes:
            nextDay === undefined
              ? []
              : [
                  {
                    title: `Begin the day ${nextDay} here`,
                    edits: [
                      { range: { from: placed.offset, to: placed.offset }, text: `${nextDay}\n${indent}` },
                    ],
                    kind: "choice",
                  },
                ],
        };
      }
    }
  },
};

const general = (between: string) =>
  `---\njob: example\nprocedure: general\ndate: 2031-03-04\n---\n\n\`\`\`steps\n17:40  photo: before\n${between}08:10  photo: after\n\`\`\`\n`;

export const page: RulePage = {
  title: "Times that run backwards",
  means: "A step's time lies before that of the step above it, or a day before the day above it.",
  mend: "Put the new day's date on a line of its own, as in `2031-03-05`, or correct the slip.",
  fix: "Puts the next day's date on a line of its own.",
  breaks: { note: general("") },
  keeps: { note: general("2031-03-05\n") },
};
