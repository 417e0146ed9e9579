import type { Range } from "../note/note.ts";
import type { JobOutcome } from "../procedures/procedure.ts";
import { endOf, type Missing, termInWords } from "../sequence/end.ts";
import { eventInWords, placeInWords, rangeOfEvent } from "../sequence/events.ts";
import { attemptInWords, causeStep, listOf, saysOf, stepsMaking } from "../sequence/explain.ts";
import type { History } from "../sequence/history.ts";
import { outcomeAimedAt, playPlanned } from "../sequence/planned.ts";
import { appendFix } from "./append-fix.ts";
import type { Report, Rule, RulePage, Subject } from "./rule.ts";

export const rule: Rule = {
  id: "sequence/incomplete",
  severity: "error",
  why: "What the procedure asks for at the end is what keeps the vehicle from coming back.",
  *check({ note, history }: Subject): Iterable<Report> {
    if (!history) return;
    const outcome = outcomeAimedAt(history);
    const done = note.frontMatter.fields.status === "done";
    // What the end must be depends on how the job ended. That it is not said is told of at the front matter.
    if (done && note.frontMatter.fields.outcome === undefined) return;
    const { events } = history;
    // A note that has no steps yet is not behind with any.
    if (!done && events.done.length + events.planned.length === 0) return;
    const state = done ? history.after : playPlanned(history, outcome).state;
    const { missing } = endOf(history, state, outcome);
    if (missing.length === 0) return;
    yield {
      range: jobRange(note),
      severity: done ? "error" : "info",
      ...inWords(missing, history, outcome, done),
      fixes: appendFix(history, outcome),
    };
  },
};

function inWords(
  missing: readonly Missing[],
  history: History,
  outcome: JobOutcome,
  done: boolean,
): Pick<Report, "message" | "advice" | "related"> {
  const { procedure } = history.grounds;
  const says = (name: string) => saysOf(name, procedure);
  const phrases = missing.map(({ term, places }) => {
    const where = places.map((place) => placeInWords(place, history.events));
    return `${termInWords(term, says)}${where.length > 0 ? ` at ${listOf(where, "and")}` : ""}`;
  });
  const ways = missing.flatMap(({ name, places }) => {
    const attempt = history.attempt(name, places[0]);
    const steps = stepsMaking(name, procedure).slice(0, 3);
    const from =
      steps.length === 0 ? [] : [`${says(name)} comes from ${listOf(steps.map((step) => `\`${step}\``))}`];
    return attempt
      ? [
          ...from,
          `${eventInWords(attempt.event)} does not give it, since ${attemptInWords(attempt.why, attempt.event)}`,
        ]
      : from;
  });
  const related = missing.flatMap(({ mark, name }) => {
    const by = mark && !mark.holds && mark.before ? causeStep(mark.cause) : undefined;
    return by ? [{ range: rangeOfEvent(by), message: `${eventInWords(by)} undid ${says(name)}.` }] : [];
  });
  const planned = history.events.planned.length > 0 ? "; the steps still to do fall short of that" : "";
  return {
    message: done
      ? `A job that is ${outcome} ends with ${listOf(phrases, "and")}; nothing here shows that.`
      : `Still missing before this job is ${outcome}: ${listOf(phrases, "and")}${planned}.`,
    advice: `${done ? "Do what is missing and write it down" : "When it is done, write it down"}: ${ways.join("; ")}.`,
    related,
  };
}

/** Where the note says how far the job is. */
export const jobRange = ({ frontMatter }: Subject["note"]): Range =>
  frontMatter.at.get("outcome") ??
  frontMatter.at.get("status") ??
  frontMatter.at.get("procedure") ??
  frontMatter.range;

const lamp = (last: string) =>
  `---\njob: example\nprocedure: lamp-moisture\ndate: 2031-03-04\nstatus: done\noutcome: no fault found\n---\n\n\`\`\`steps\n08:40  assess: fog, clears by itself\n${last}\`\`\`\n`;

export const page: RulePage = {
  title: "What the procedure asks for at the end is missing",
  means:
    "The job is done, and something that its procedure asks for at the end, by the outcome, is not shown by any step. In a job that is still open this is information: what neither the steps done nor those still to do lead to.",
  mend: "Do the steps that are missing and write them down, or give the outcome that the job really had. What is left on purpose is written with `leave` and its reason.",
  fix: "Writes the shortest run of steps that is missing behind the others, each with `--:--` as still to do. Nothing that was done is changed.",
  breaks: { note: lamp("") },
  keeps: { note: lamp("08:55  function check: pass\n") },
};
