import type { LimitOutcome } from "../analysis/limits.ts";
import { resolve } from "../analysis/scope.ts";
import { inWords, shownUnit, uncertaintyInWords } from "../analysis/showing.ts";
import { fromSI } from "../units/unit.ts";
import { type Report, type Rule, type RulePage, rangeOn, type Subject } from "./rule.ts";
import { shopLimitReports } from "./shop-limits.ts";

/** The sides of a comparison and the room between them, as a person reads them. */
export function marginInWords(
  outcome: LimitOutcome,
  { note: { text }, evaluation }: Pick<Subject, "note" | "evaluation">,
): { name: string; value: string; limit: string; room: string; uncertainty: string } | undefined {
  const { left, right, condition, placed } = outcome;
  if (!left || !right || condition.kind !== "binary") return undefined;
  const unit = shownUnit(right) ?? shownUnit(left);
  const point = unit?.scale === "point";
  const factor = Math.abs(unit?.factor ?? 1);
  const spelling = unit?.spelling ?? "";
  const worst = worstElement(outcome);
  const asShown = (si: number) => inWords(unit ? fromSI(si, unit) : si, null, spelling);
  const size = (si: number) => Math.abs(si) / (point ? 1 : factor);
  const spread = point ? "K" : spelling;
  return {
    name: text.slice(placed.offset + condition.left.span.from, placed.offset + condition.left.span.to),
    value: asWritten(outcome, spelling, text, evaluation) ?? asShown(worst),
    limit: asShown(right.si),
    room: inWords(size(outcome.margin), null, spread),
    uncertainty: uncertaintyInWords(size(outcome.uncertainty), spread),
  };
}

/** A single reading with the digits that somebody wrote; undefined for anything else, or in another unit. */
function asWritten(
  { condition, block }: LimitOutcome,
  unit: string,
  text: string,
  { scope }: Subject["evaluation"],
): string | undefined {
  if (condition.kind !== "binary" || condition.left.kind !== "name") return undefined;
  const body = resolve(scope, block.label, condition.left.name)?.body;
  if (body?.kind !== "line" || body.syntax.kind !== "measured") return undefined;
  const { value } = body.syntax;
  if (value.kind !== "number" || value.numbers.length !== 1 || value.unit?.text !== unit) return undefined;
  const { from, to } = rangeOn(body.placed, value.span);
  return text.slice(from, to);
}

function worstElement(outcome: LimitOutcome): number {
  const values = outcome.left?.sampling?.values;
  const si = outcome.left?.si ?? 0;
  if (!values || values.length === 0) return si;
  return outcome.operator === ">" || outcome.operator === ">="
    ? values.reduce((a, b) => Math.min(a, b))
    : values.reduce((a, b) => Math.max(a, b));
}

export const rule: Rule = {
  id: "limit/exceeded",
  severity: "error",
  why: "A limit is there to keep a part or a person from harm, or to say when a job is good enough; a value beyond it fails, whatever its uncertainty.",
  *check(subject): Iterable<Report> {
    const { limits } = subject;
    yield* shopLimitReports(subject);
    for (const outcome of limits.outcomes) {
      if (outcome.verdict !== "exceeded") continue;
      const words = marginInWords(outcome, subject);
      // A part's own acceptance figure that is missed by less than the uncertainty is undecided, not failed.
      const undecided = outcome.acceptance && -outcome.margin < outcome.uncertainty;
      const source = outcome.placed.syntax.source;
      yield {
        range: rangeOn(outcome.placed, outcome.span),
        ...(undecided ? { severity: "warning", why: UNDECIDED } : {}),
        message: words
          ? `\`${words.name}\` is ${words.value}, ${words.room} beyond its limit of ${words.limit}${undecided ? `: less than the uncertainty of ${words.uncertainty}` : ""}.`
          : "This limit does not hold.",
        advice:
          (undecided
            ? "Measure again with a better instrument before the part is turned down."
            : "Stop and put it right, or check the reading.") +
          (source ? ` The limit comes from: ${source.text}.` : ""),
      };
    }
  },
};

const UNDECIDED =
  "A part fails its own acceptance figure only where the value is beyond it for certain; this one may still be inside.";

export const page: RulePage = {
  title: "A limit that does not hold",
  means:
    "A value lies beyond its limit, the note's own or one of the shop file for this reading; the note's own goes first. A list must meet the limit with every reading.",
  mend: "Bring the value back inside, or correct the reading or the limit if one of them is wrong.",
  source: "ISO 14253-1 and JCGM 106:2012 for deciding with uncertainty; here always on the cautious side.",
  breaks: {
    note: "```readings\ntest pressure: 1.20 psi\n```\n\n```limits\ntest pressure <= 1 psi   source: service information for this lamp\n```\n",
  },
  keeps: {
    note: "```readings\ntest pressure: 0.80 psi\n```\n\n```limits\ntest pressure <= 1 psi   source: service information for this lamp\n```\n",
  },
};
