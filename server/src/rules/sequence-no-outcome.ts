import { OUTCOME_WORDS } from "../procedures/outcome-words.ts";
import type { OutcomeKind } from "../procedures/procedure-schema.ts";
import { eventInWords, rangeOfEvent, type StepEvent } from "../sequence/events.ts";
import { listOf, waysToShow } from "../sequence/explain.ts";
import { type Report, type Rule, type RulePage, rangeOn, replace } from "./rule.ts";

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
        const meant = said ? undefined : outcomeMeant(event);
        yield {
          range,
          message: said
            ? `${step} says \`${said}\`, and not ${listOf(words)}.`
            : `${step} does not say ${listOf(words)}.`,
          advice: `Start its remark with one of these words${meant ? `, as in \`${meant.remark}\`` : ""}. Until then it proves nothing.`,
          fixes: meant ? [replace(`Write ${meant.remark}`, meant.range, meant.remark, "choice")] : [],
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

/** What people write for an outcome. Only what leaves no doubt is here. */
const MEANT: Readonly<Record<OutcomeKind, readonly (readonly [words: RegExp, outcome: string])[]>> = {
  "pass or fail": [
    [/^(?:not ok|nok|n\.?i\.?o\.?|failed|fails|bad|still leaks?|leaks|leaking)(?![\p{L}\p{N}])/iu, "fail"],
    [/^(?:ok|okay|o\.k\.|i\.?o\.?|passed|passes|good|fine|tight|no leaks?)(?![\p{L}\p{N}])/iu, "pass"],
  ],
  "found or none": [
    [/^(?:not found|nothing|no leaks?|no faults?|nil)(?![\p{L}\p{N}])/iu, "none"],
    [/^(?:yes|located)(?![\p{L}\p{N}])/iu, "found"],
  ],
  "droplets, fog or none": [
    [/^(?:water|drops|wet)(?![\p{L}\p{N}])/iu, "droplets"],
    [/^(?:mist|misty|haze|hazy|condensation|fogged)(?![\p{L}\p{N}])/iu, "fog"],
    [/^(?:nothing|dry|no water)(?![\p{L}\p{N}])/iu, "none"],
  ],
};

/** Words that say more than how it came out, and so stay. */
const TELLS_MORE = /leak|water|drops|wet|mist|haz|condensation|fogged|dry/i;

/** The remark with its outcome in the words that are read. */
function outcomeMeant({ step, syntax, placed }: StepEvent) {
  const { remark } = syntax;
  if (!step.outcome || !remark) return undefined;
  for (const [words, outcome] of MEANT[step.outcome]) {
    const [said] = words.exec(remark.text) ?? [];
    if (said === undefined) continue;
    const rest = TELLS_MORE.test(said) ? `, ${remark.text}` : remark.text.slice(said.length);
    return { remark: outcome + rest, range: rangeOn(placed, remark.span) };
  }
  return undefined;
}

const lamp = (steps: string) =>
  `---\njob: example\nprocedure: lamp-moisture\n---\n\n\`\`\`steps\n2031-03-04\n${steps}\n\`\`\`\n`;

export const page: RulePage = {
  title: "A step that does not say how it came out",
  means:
    "A test or a look starts its remark with `found` or `none`, `pass` or `fail`. A step that rests on evidence, such as drying, needs that evidence. Something left on purpose needs its reason.",
  mend: "Write the outcome as the remark's first word, or the evidence that the finding names.",
  fix: "Writes the outcome before the remark, where the remark's own words leave no doubt.",
  breaks: { note: lamp("08:40  assess: wet inside") },
  keeps: { note: lamp("08:40  assess: droplets, wet inside") },
};
