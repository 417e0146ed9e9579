import { eventInWords, type StepEvent } from "../sequence/events.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";
import { timesRunningBack } from "./series-time.ts";

export const rule: Rule = {
  id: "sequence/time-order",
  severity: "warning",
  why: "Cure and cooling times are worked out from these times; one that runs back makes them wrong.",
  *check(subject): Iterable<Report> {
    const { note, history } = subject;
    yield* timesRunningBack(subject);
    if (history) for (const list of [history.events.done, history.events.planned]) yield* unread(list);
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

/** An end in words such as `until Monday`. `until dry` is a remark like any other. */
const UNREAD =
  /(?<![\p{L}\p{N}-])until[ \t\u00a0]+((?:(?:(?:the )?next|this|about|early|late)[ \t\u00a0]+)*(?:tomorrow|tonight|noon|midday|midnight|morning|evening|(?:mon|tues?|wed(?:nes)?|thur?s?|fri|sat(?:ur)?|sun)(?:day)?|\d{1,2}(?:[.h]\d{2})?[ \t\u00a0]*(?:[ap]\.?m\.?|o'clock)|\d{1,2}[.h]\d{2})(?![\p{L}\p{N}]).*)$/iu;

/** A step that lasts and whose end nobody can work with. Elsewhere the words are only told. */
function* unread(events: readonly StepEvent[]): Iterable<Report> {
  const suspects = events.filter(
    ({ step, syntax: { remark, until } }) =>
      remark && !until && (step.makes.length > 0 || step.time !== undefined) && UNREAD.test(remark.text),
  );
  for (const {
    placed,
    syntax: { remark },
  } of suspects) {
    const match = remark && UNREAD.exec(remark.text);
    if (!match) continue;
    const from = remark.span.from + match.index;
    yield {
      range: rangeOn(placed, { from, to: remark.span.to }),
      message: `\`${match[0].trimEnd()}\` is not read as the end of this step.`,
      advice:
        "Write the day and the time of the clock, as in `until 2031-03-05 08:00`; on the same day the time alone, as in `until 16:30`.",
      why: "Cure, drying and cooling times are worked out from the end of a step; in other words it counts for nothing.",
    };
  }
}

const general = (between: string) =>
  `---\njob: example\nprocedure: general\ndate: 2031-03-04\n---\n\n\`\`\`steps\n17:40  photo: before\n${between}08:10  photo: after\n\`\`\`\n`;

export const page: RulePage = {
  title: "Times that run backwards",
  means:
    "A step's time lies before that of the step above it, a day before the day above it, or a row's time in a series before that of the row above it.",
  mend: "Put the new day's date on a line of its own, as in `2031-03-05`, or correct the slip.",
  fix: "Puts the next day's date on a line of its own.",
  breaks: { note: general("") },
  keeps: { note: general("2031-03-05\n") },
};
