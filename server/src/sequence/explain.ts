import type { Evaluated } from "../analysis/evaluation.ts";
import { show } from "../analysis/showing.ts";
import type { Range } from "../note/note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import type { Evidence } from "../procedures/procedure-schema.ts";
import { withoutArticle } from "./end.ts";
import { eventInWords, momentInWords, placeInWords, rangeOfEvent, type StepEvent } from "./events.ts";
import { type Grounds, readingsNamed } from "./grounds.ts";
import type { History, Unmet, UnmetTerm } from "./history.ts";
import type { Cause, Mark } from "./state.ts";
import { hours } from "./waiting.ts";

/** What a finding says about a step whose need did not hold. */
export interface Explanation {
  readonly message: string;
  readonly advice: string;
  readonly related: readonly { readonly range: Range; readonly message: string }[];
}

/** A condition as a noun phrase. */
export const saysOf = (name: string, procedure: Procedure): string =>
  procedure.conditions.get(name)?.says ?? name;

/** Steps that make a condition, in the order of the procedure. */
export function stepsMaking(name: string, procedure: Procedure): readonly string[] {
  return procedure.steps
    .filter(
      (step) =>
        step.makes.includes(name) ||
        Object.values(step.byOutcome ?? {}).some((special) => special.makes?.includes(name)),
    )
    .map((step) => step.name);
}

const stepsUndoing = (name: string, procedure: Procedure): readonly string[] =>
  procedure.steps.filter((step) => step.undoes.includes(name)).map((step) => step.name);

export const listOf = (words: readonly string[], last = "or"): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;

const quoted = (names: readonly string[]): string => listOf(names.map((name) => `\`${name}\``));

export function explainUnmet(unmet: Unmet, history: History): Explanation {
  const { event, need, countsAs, putRightBy } = unmet;
  const { procedure } = history.grounds;
  const telling = [...unmet.terms].sort((a, b) => weight(b) - weight(a));
  // Of several of which one would do, those that must not hold say when the others are needed.
  const any = "anyOf" in need && telling.length > 1;
  const needed = any ? unmet.terms.filter((term) => !term.negative) : [];
  const given = needed.length > 0 ? unmet.terms.filter((term) => term.negative) : [];
  const main = given.length > 0 ? telling.find((term) => !term.negative) : telling[0];
  const step = eventInWords(event);
  const as = countsAs ? `, which counts as \`${countsAs.step}\` here,` : "";
  const reasons = main ? reasonFor(main, event, history) : { says: "", causes: [] };
  const many = any && given.length === 0;
  const wanted = many
    ? `needs one of these: ${listOf(unmet.terms.map((term) => phrase(term, procedure)))}`
    : given.length > 0
      ? `needs ${listOf(needed.map((term) => phrase(term, procedure)))}`
      : unmet.terms.length > 1
        ? `needs ${listOf(
            unmet.terms.map((term) => phrase(term, procedure)),
            "and",
          )}`
        : main?.negative
          ? `may not be done with ${saysOf(main.name, procedure)}`
          : `needs ${main ? at(main, event, procedure) : ""}`;
  const joint =
    many && main && !main.negative && reasons.causes.length === 0
      ? "; nothing shows any of them"
      : reasons.says;
  const when =
    given.length > 0
      ? `With ${listOf(
          given.map((term) => saysOf(term.name, procedure)),
          "and",
        )} `
      : "";
  const causes = [...reasons.causes];
  for (const cause of given.flatMap((term) => reasonFor(term, event, history).causes)) {
    if (!causes.some((one) => one.event === cause.event)) causes.push(cause);
  }
  const right = putRightBy ? ` It was put right by ${eventInWords(putRightBy, event.day)}.` : "";
  return {
    message: `${when}${step}${as} ${wanted}${joint}.${right}`,
    advice: putRightBy
      ? `${need.why} Nothing is left to do; the line stays as it was done.`
      : `${need.why} ${main ? whatToDo(telling, event, procedure) : ""}`.trim(),
    related: causes.map((cause) => ({
      range: rangeOfEvent(cause.event),
      message: `${eventInWords(cause.event, event.day)} ${cause.says}`,
    })),
  };
}

/** The term that tells most about what went wrong comes first. */
function weight(term: UnmetTerm): number {
  if (term.ready) return 5;
  if (term.attempt) return 4;
  if (term.mark?.cause.kind === "step" || term.mark?.cause.kind === "night") return 3;
  if (term.elsewhere.length > 0) return 2;
  return term.negative ? 1 : 0;
}

const phrase = (term: UnmetTerm, procedure: Procedure): string =>
  term.negative ? `no ${withoutArticle(saysOf(term.name, procedure))}` : saysOf(term.name, procedure);

function at(term: UnmetTerm, event: StepEvent, procedure: Procedure): string {
  const place = procedure.conditions.get(term.name)?.perPlace && event.place !== undefined;
  return place
    ? `${saysOf(term.name, procedure)} at [${event.syntax.place?.text ?? event.place}]`
    : saysOf(term.name, procedure);
}

interface Reason {
  readonly says: string;
  readonly causes: readonly { readonly event: StepEvent; readonly says: string }[];
}

function reasonFor(term: UnmetTerm, event: StepEvent, { events, grounds }: History): Reason {
  const { procedure } = grounds;
  const condition = saysOf(term.name, procedure);
  const near = event.day;
  if (term.ready) {
    const since = sinceOf(term, procedure);
    const takes = procedure.conditions.get(since.name)?.takes;
    const until = term.ready.at === undefined ? "" : `, until ${momentInWords(term.ready.at, near)}`;
    const what = takes?.what ?? "the time that it takes";
    const left = term.mark && term.negative ? causeStep(term.mark.cause) : undefined;
    const from = left ? `${eventInWords(left, near)} left it so, and ` : "";
    return {
      says: `: ${from}${what} is ${term.ready.waiting.says}${until}`,
      causes: left ? [{ event: left, says: `left ${condition}.` }] : [],
    };
  }
  if (term.negative) {
    const left = term.mark ? causeStep(term.mark.cause) : undefined;
    return left
      ? {
          says: `, which ${eventInWords(left, near)} left so`,
          causes: [{ event: left, says: `left ${condition}.` }],
        }
      : { says: "", causes: [] };
  }
  const { attempt, mark } = term;
  if (attempt) {
    const said = eventInWords(attempt.event, near);
    const tells = attemptInWords(attempt.why, attempt.event);
    return {
      says: `, which ${said} does not give: ${tells}`,
      causes: [{ event: attempt.event, says: `does not give ${condition}: ${tells}.` }],
    };
  }
  if (mark) return reasonOfMark(mark, condition, event);
  if (term.elsewhere.length > 0)
    return {
      says: `, which holds at ${listOf(
        term.elsewhere.map((one) => placeInWords(one, events)),
        "and",
      )} only`,
      causes: [],
    };
  const shown = procedure.conditions.get(term.name)?.shownBy;
  if (stepsMaking(term.name, procedure).length === 0 && shown) {
    const given = shown.flatMap((one) =>
      "reading" in one
        ? readingsNamed(one.reading, grounds).flatMap((found) => asWritten(found, grounds))
        : [],
    );
    if (given.length > 0) return { says: `, and ${listOf(given, "and")}`, causes: [] };
    // What is a figure is given, and what is a state is said.
    const isSaid = shown.some((one) => "words" in one || "medium" in one);
    return { says: isSaid ? ", and nothing here says so" : ", and the note does not give it", causes: [] };
  }
  return { says: ", and no step before it made that so", causes: [] };
}

function asWritten({ definition, result }: Evaluated, { note }: Grounds): readonly string[] {
  const { body } = definition;
  if (result?.kind !== "quantity" || body.kind !== "line") return [];
  if (body.syntax.kind !== "measured") return [`\`${definition.name}\` is ${show(result).text}`];
  const { from, to } = body.syntax.value.span;
  return [`\`${definition.name}\` is ${note.text.slice(body.placed.offset + from, body.placed.offset + to)}`];
}

function sinceOf(term: UnmetTerm, procedure: Procedure): { readonly name: string } {
  if (!term.negative) return term;
  for (const [name, { takes }] of procedure.conditions) if (takes?.since === term.name) return { name };
  return term;
}

function reasonOfMark(mark: Mark, condition: string, event: StepEvent): Reason {
  const { cause } = mark;
  if (mark.holds && mark.from !== undefined && cause.kind === "step") {
    return {
      says: `, which holds only from ${momentInWords(mark.from, event.day)}, when ${eventInWords(cause.event, event.day)} ends`,
      causes: [{ event: cause.event, says: `goes on until ${momentInWords(mark.from, cause.event.day)}.` }],
    };
  }
  if (cause.kind === "night")
    return { says: ", which nobody can take for granted after a night", causes: [] };
  const by = causeStep(cause);
  if (!by) return { says: "", causes: [] };
  return mark.before === undefined
    ? { says: ", and no step before it made that so", causes: [] }
    : {
        says: `, which ${eventInWords(by, event.day)} undid`,
        causes: [{ event: by, says: `undid ${condition}.` }],
      };
}

export const causeStep = (cause: Cause): StepEvent | undefined =>
  "event" in cause ? cause.event : undefined;

export function attemptInWords(why: NonNullable<UnmetTerm["attempt"]>["why"], event: StepEvent): string {
  switch (why.kind) {
    case "no outcome":
      return `it does not say ${listOf((event.step.outcome ?? "").split(/, | or /))}`;
    case "outcome":
      return `it says ${why.word}`;
    case "no evidence":
      return `nothing shows ${event.step.evidence?.says ?? "it"}`;
    case "too short":
      return `it gave ${hours(Math.max(0, why.lasted))} of ${why.waiting.says}`;
  }
}

function whatToDo(terms: readonly UnmetTerm[], event: StepEvent, procedure: Procedure): string {
  const again = `\`${event.syntax.step.text}\``;
  const ready = terms.find((term) => term.ready)?.ready;
  if (ready) {
    const long = ready.at === undefined ? "for that long" : `until ${momentInWords(ready.at, event.day)}`;
    return `Wait ${long}, then do ${again} again.`;
  }
  const ways = [
    ...new Set(
      terms.flatMap((term) =>
        term.negative ? stepsUndoing(term.name, procedure) : stepsMaking(term.name, procedure),
      ),
    ),
  ].filter((name) => name !== event.step.name);
  const shown = terms.flatMap((term) =>
    term.negative ? [] : (procedure.conditions.get(term.name)?.shownBy ?? []),
  );
  const say = waysToShow(shown);
  if (ways.length === 0) return say.length === 0 ? "" : `To show it, ${listOf(say)}.`;
  const alternatively = say.length === 0 ? "" : ` Or ${listOf(say)}.`;
  return `To put it right, do ${quoted(ways.slice(0, 4))} and then ${again} again; the line itself stays as it was done.${alternatively}`;
}

/** How somebody writes such evidence down; all that words can show comes as one way. */
export function waysToShow(evidence: readonly Evidence[]): readonly string[] {
  const words = evidence.flatMap((one) => ("words" in one ? (one.words[0] ?? []) : []));
  const said = [...new Set(words)].map((word) => `“${word.replace(/\*$/, "…")}”`);
  const others = evidence.flatMap((one) => ("words" in one ? [] : howToShow(one)));
  return [...new Set(others), ...(said.length > 0 ? [`say so in the remark (as in ${listOf(said)})`] : [])];
}

function howToShow(evidence: Exclude<Evidence, { readonly words: unknown }>): string {
  if ("quantity" in evidence)
    return `write the ${evidence.quantity}${boundsInWords(evidence)} into the remark`;
  if ("reading" in evidence) return `take the reading \`${evidence.reading}\`${boundsInWords(evidence)}`;
  if ("step" in evidence) return `do \`${evidence.step}\` with the outcome ${evidence.outcome}`;
  if ("limit" in evidence) return `write a limit for \`${evidence.limit}\` with its source`;
  if ("medium" in evidence) return "name a medium that may be used there";
  return `take \`${evidence.instrument}\` with an instrument of the shop file`;
}

function boundsInWords({
  atLeast,
  atMost,
}: {
  readonly atLeast?: string | undefined;
  readonly atMost?: string | undefined;
}): string {
  if (atLeast !== undefined && atMost !== undefined) return ` (${atLeast} to ${atMost})`;
  if (atLeast !== undefined) return ` (${atLeast} or more)`;
  return atMost === undefined ? "" : ` (${atMost} or less)`;
}
