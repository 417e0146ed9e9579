import { OUTCOME_WORDS } from "../procedures/outcome-words.ts";
import type { JobOutcome } from "../procedures/procedure.ts";
import type { Term } from "../procedures/procedure-schema.ts";
import { anyInWords, endOf, type Missing, termInWords } from "./end.ts";
import { eventInWords, momentInWords } from "./events.ts";
import { listOf, saysOf, waysToShow } from "./explain.ts";
import type { History } from "./history.ts";
import { type PlanLine, planFor } from "./mend.ts";
import { failingTerms, isGivenOnly, outcomeAimedAt } from "./planned.ts";
import { waitingFor } from "./waiting.ts";

/** One step of the way to the end, and when its turn is. */
export interface NextStep {
  readonly line: PlanLine;
  /** The step in words, with its place. */
  readonly says: string;
  readonly when: "now" | "wait" | "not yet";
  /** What it waits for, or why not yet; empty for what can be done now. */
  readonly because: string;
  /** What its line has to say when it is done, and what to mind. */
  readonly mind: readonly string[];
}

export interface NextSteps {
  readonly outcome: JobOutcome;
  readonly steps: readonly NextStep[];
  /** What no run of steps that the procedure knows leads to. */
  readonly unreachable: readonly Missing[];
}

/** What to do now, what has to wait until when, and what may not be done yet and why. */
export function nextSteps(history: History): NextSteps {
  const outcome = outcomeAimedAt(history);
  const plan = planFor(history, outcome);
  const steps: NextStep[] = [];
  let turn = true;
  let before: PlanLine | undefined;
  for (const line of plan.lines) {
    const step = nextStep(line, history, turn, before);
    if (step.when !== "now") turn = false;
    steps.push(step);
    before = line;
  }
  const unreachable = plan.complete ? [] : endOf(history, history.after, outcome).missing;
  return { outcome, steps, unreachable };
}

function nextStep(line: PlanLine, history: History, turn: boolean, before: PlanLine | undefined): NextStep {
  const { grounds, after } = history;
  const base = { line, says: inWords(line), mind: toMind(line, history) };
  const waiting = waitsFor(line, history);
  if (waiting !== undefined) return { ...base, when: "wait", because: waiting };
  const failing = line.step.needs.flatMap((need) => {
    const terms = failingTerms(need, line.place, after, grounds, line.event);
    return terms.length === 0 ? [] : [{ need, terms }];
  });
  const [first] = failing;
  if (first) {
    const says = (name: string) => saysOf(name, grounds.procedure);
    const needs = failing.map(({ need, terms }) =>
      "all" in need
        ? listOf(
            terms.map((term) => termInWords(term, says)),
            "and",
          )
        : anyInWords(terms, says),
    );
    const until = untilFor(
      failing.flatMap(({ terms }) => terms),
      line.place,
      history,
    );
    return {
      ...base,
      when: until ? "wait" : "not yet",
      because: `${line.stuck ? "no step that is known makes it possible; it " : ""}needs ${listOf(needs, "and")}${until}. ${first.need.why}`,
    };
  }
  if (turn) return { ...base, when: "now", because: "" };
  return { ...base, when: "not yet", because: before ? `comes after ${inWords(before)}` : "" };
}

const inWords = ({ step, placeText, event }: PlanLine): string => {
  const name = event?.syntax.step.text ?? step.name;
  return `\`${name}\`${placeText === undefined ? "" : ` [${placeText}]`}`;
};

/** Whether the step is a wait that has begun already, and until when. */
function waitsFor({ step, place }: PlanLine, history: History): string | undefined {
  for (const name of step.makes) {
    const since = history.grounds.procedure.conditions.get(name)?.takes?.since;
    if (since === undefined) continue;
    const until = sinceUntil(name, since, place, history);
    if (until !== undefined) return until;
  }
  return undefined;
}

/** "until 12:35, ..." for terms that time alone will settle. */
function untilFor(terms: readonly Term[], place: string | undefined, history: History): string {
  for (const [name, { takes }] of history.grounds.procedure.conditions) {
    if (takes?.since === undefined) continue;
    const asked = terms.some((term) => (typeof term === "string" ? term === name : term.not === takes.since));
    const until = asked ? sinceUntil(name, takes.since, place, history) : undefined;
    if (until !== undefined) return ` (${until})`;
  }
  return "";
}

function sinceUntil(
  name: string,
  since: string,
  place: string | undefined,
  { after, grounds }: History,
): string | undefined {
  const takes = grounds.procedure.conditions.get(name)?.takes;
  for (const one of after.holding(since)) {
    if (place !== undefined && one.place !== undefined && one.place !== place) continue;
    const { cause } = one.mark;
    if (cause.kind !== "step" || !takes) continue;
    const waiting = waitingFor(takes, [cause.event.remark], grounds);
    const from = cause.event.step.time ? (cause.event.until ?? cause.event.at) : cause.event.at;
    const until = from === undefined ? "" : `until ${momentInWords(from + waiting.minutes, undefined)}, `;
    return `${until}since ${takes.what} after ${eventInWords(cause.event)} is ${waiting.says}`;
  }
  return undefined;
}

/** What its line has to say, what only words can show, and the caution. */
function toMind({ step, place }: PlanLine, { grounds, after }: History): readonly string[] {
  const mind: string[] = [];
  if (step.outcome) {
    mind.push(`Start its remark with ${listOf(OUTCOME_WORDS[step.outcome].map((word) => `\`${word}\``))}.`);
  }
  const { conditions } = grounds.procedure;
  for (const need of step.needs) {
    if (!("all" in need)) continue;
    for (const term of need.all) {
      if (typeof term !== "string" || !isGivenOnly(term, grounds) || after.holds(term, place)) continue;
      const shownBy = conditions.get(term)?.shownBy ?? [];
      // What a reading or a limit of the note shows already needs no word.
      if (shownBy.some((one) => "limit" in one)) continue;
      mind.push(`It needs ${saysOf(term, grounds.procedure)}: ${listOf(waysToShow(shownBy))}.`);
    }
  }
  if (step.evidence) mind.push(`Show ${step.evidence.says}: ${listOf(waysToShow(step.evidence.anyOf))}.`);
  if (step.caution) mind.push(`Caution: ${step.caution}`);
  return mind;
}
