import { endOf, withoutArticle } from "../sequence/end.ts";
import { eventInWords, placeInWords, rangeOfEvent } from "../sequence/events.ts";
import { causeStep, listOf, saysOf } from "../sequence/explain.ts";
import type { History } from "../sequence/history.ts";
import { outcomeAimedAt } from "../sequence/planned.ts";
import { appendFix } from "./append-fix.ts";
import type { Report, Rule, RulePage } from "./rule.ts";
import { jobRange } from "./sequence-incomplete.ts";

export const rule: Rule = {
  id: "sequence/left-behind",
  severity: "error",
  why: "What is left blocked, open, fitted or under pressure drives away with the vehicle and hurts the next one who touches it.",
  *check({ note, history }): Iterable<Report> {
    if (!history) return;
    const done = note.frontMatter.fields.status === "done";
    yield* overNight(history, done);
    if (!done) return;
    const { procedure } = history.grounds;
    const outcome = outcomeAimedAt(history);
    for (const { name, place, mark, onPurpose } of endOf(history, history.after, outcome).left) {
      const by = causeStep(mark.cause);
      const what = `${saysOf(name, procedure)}${place === undefined ? "" : ` at ${placeInWords(place, history.events)}`}`;
      const range = by ? rangeOfEvent(by) : jobRange(note);
      if (onPurpose) {
        yield {
          range,
          severity: "info",
          message: `The job leaves ${what}, on purpose.`,
          advice: `The reason stands at ${eventInWords(onPurpose)}.`,
          related: [{ range: rangeOfEvent(onPurpose), message: "The reason that was given." }],
        };
        continue;
      }
      const ways = procedure.steps.filter((step) => step.undoes.includes(name)).map((step) => step.name);
      yield {
        range,
        message: `The job is done and leaves ${what}${by ? `: ${eventInWords(by)} left it so, and nothing undid it` : ""}.`,
        advice: `Go back to the vehicle, do ${listOf(ways.slice(0, 3).map((way) => `\`${way}\``))}, and write it down. If it stays so on purpose, name it and say why, as in \`leave: ${withoutArticle(saysOf(name, procedure))}, because …\`.`,
        fixes: appendFix(history, outcome),
      };
    }
  },
};

/** Pressure that stood on something while nobody was there. */
function* overNight({ overnight, after, grounds }: History, done: boolean): Iterable<Report> {
  for (const { name, mark, morning } of overnight) {
    // A finished job that leaves it on says so at the same step; once is enough.
    if (done && after.anywhere(name)) continue;
    const by = causeStep(mark.cause);
    yield {
      range: rangeOfEvent(by ?? morning),
      // Once it is off it can hurt nobody any more, but it is not to happen again.
      severity: after.anywhere(name) ? "error" : "warning",
      message: `${by ? eventInWords(by) : "A step before"} left ${saysOf(name, grounds.procedure)} over night: the next step is ${eventInWords(morning)}.`,
      advice: "Let it off before you go home. Whoever comes first in the morning does not know of it.",
      related: [{ range: rangeOfEvent(morning), message: "The morning after." }],
    };
  }
}

const lamp = (last: string) =>
  `---\njob: example\nprocedure: lamp-moisture\ndate: 2031-03-04\nstatus: done\noutcome: declined\n---\n\n\`\`\`steps\n08:40  assess: droplets\n08:55  block vents: 2 of 2\n${last}\`\`\`\n`;

export const page: RulePage = {
  title: "Left blocked, open, fitted or under pressure",
  means:
    "The job is done, and something that no finished job may leave is still so: vents blocked, pressure on, a meter in the circuit. The finding stands at the step that left it so.",
  mend: "Undo it and write the step down. What stays so on purpose is written as `leave: vents blocked, because …`; it is then listed as information.",
  fix: "Writes the shortest run of steps that is missing behind the others, each with `--:--` as still to do. Nothing that was done is changed.",
  breaks: { note: lamp("") },
  keeps: { note: lamp("09:10  unblock vents: 2 of 2\n") },
};
