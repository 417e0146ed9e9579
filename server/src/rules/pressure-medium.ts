import { eventInWords, rangeOfEvent } from "../sequence/events.ts";
import { listOf } from "../sequence/explain.ts";
import { readingsNamed } from "../sequence/grounds.ts";
import type { History } from "../sequence/history.ts";
import { forbiddenIn, mediumIn, mediumNamed } from "../sequence/medium.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "pressure/medium",
  severity: "error",
  why: "The wrong gas burns or explodes in there; no test is worth that.",
  *check({ history, procedure }): Iterable<Report> {
    const medium = procedure?.medium;
    if (!history || !medium) return;
    const allowed = medium.allowed ? ` Use ${listOf(medium.allowed)}.` : "";
    const advice = `${medium.why}${allowed} ${sentence(medium.source)}`;
    for (const { definition, result } of readingsNamed("medium", history.grounds)) {
      if (result?.kind !== "text" || definition.body.kind !== "line") continue;
      const said = mediumNamed(result.text, history.grounds);
      const { placed, syntax } = definition.body;
      const range = rangeOn(placed, syntax.kind === "measured" ? syntax.value.span : definition.nameSpan);
      if (said === "forbidden") {
        yield { range, message: `\`${result.text}\` may not be used here.`, advice };
      } else if (said === "unsaid" && medium.allowed) {
        yield { range, message: `\`${result.text}\` is none of the media that may be used here.`, advice };
      }
    }
    const events = [...history.events.done, ...history.events.planned].filter((event) =>
      isAbout(event.step.name, medium.steps),
    );
    for (const event of events) {
      const { remark } = event.syntax;
      const named = remark && forbiddenIn(remark.text, medium);
      if (!remark || named === undefined) continue;
      yield {
        range: rangeOn(event.placed, remark.span),
        message: `${eventInWords(event)} names \`${named}\`, which may not be used here.`,
        advice,
      };
    }
    if (!medium.mustBeStated || asksAlready(history)) return;
    const first = events.find((event) => event.done);
    if (!first || events.some((event) => mediumIn(event, history.grounds) !== "unsaid")) return;
    if (readingsNamed("medium", history.grounds).length > 0) return;
    yield {
      range: rangeOfEvent(first),
      message: `${eventInWords(first)} does not say with which medium, and no reading \`medium\` does.`,
      advice: `${advice} Write it into the remark, or as the reading \`medium\`.`,
    };
  },
};

const isAbout = (name: string, steps: readonly string[]): boolean => steps.includes(name);

const sentence = (text: string): string => `The rule is from: ${text}.`;

/** A need that asks for an allowed medium reports the missing word itself. */
const asksAlready = ({ unmet, grounds }: History): boolean =>
  unmet.some(({ terms }) =>
    terms.some(({ name }) =>
      grounds.procedure.conditions.get(name)?.shownBy?.some((evidence) => "medium" in evidence),
    ),
  );

const vapour = (medium: string) =>
  `---\njob: example\nprocedure: evap-leak\n---\n\n\`\`\`readings\nmedium: ${medium}\nfuel level: 40 %\n\`\`\`\n`;

export const page: RulePage = {
  title: "A medium that may not be used there",
  means:
    "A reading `medium` or a step's remark names a gas that burns, or makes other things burn; or for a fuel-vapour system anything but nitrogen, argon or carbon dioxide, or nothing at all.",
  mend: "Use a medium that the procedure allows, and write it down. A note cannot talk this away.",
  source: "Common practice; the procedure names its source.",
  breaks: { note: vapour("shop air") },
  keeps: { note: vapour("nitrogen") },
};
