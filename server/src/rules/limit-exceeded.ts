import type { LimitOutcome } from "../analysis/limits.ts";
import { inWords, shownUnit } from "../analysis/showing.ts";
import { fromSI } from "../units/unit.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

/** The values of a comparison and the room between them, as a person reads them. */
export function marginInWords(
  outcome: LimitOutcome,
): { value: string; limit: string; room: string; uncertainty: string } | undefined {
  const { left, right } = outcome;
  if (!left || !right) return undefined;
  const unit = shownUnit(right) ?? shownUnit(left);
  const factor = Math.abs(unit?.factor ?? 1);
  const spelling = unit?.spelling ?? "";
  const difference = unit?.scale === "point" ? "K" : spelling;
  const worst = worstElement(outcome);
  const asShown = (si: number) => inWords(unit ? fromSI(si, unit) : si, null, spelling);
  const size = (si: number) =>
    inWords(Math.abs(si) / (unit?.scale === "point" ? 1 : factor), null, difference);
  return {
    value: asShown(worst),
    limit: asShown(right.si),
    room: size(outcome.margin),
    uncertainty: size(outcome.uncertainty),
  };
}

function worstElement(outcome: LimitOutcome): number {
  const values = outcome.left?.sampling?.values;
  const si = outcome.left?.si ?? 0;
  if (!values || values.length === 0) return si;
  return outcome.operator === ">" || outcome.operator === ">=" ? Math.min(...values) : Math.max(...values);
}

export const rule: Rule = {
  id: "limit/exceeded",
  severity: "error",
  why: "A limit is there to keep a part or a person from harm, or to say when a job is good enough; a value beyond it fails, whatever its uncertainty.",
  *check({ limits }): Iterable<Report> {
    for (const outcome of limits.outcomes) {
      if (outcome.verdict !== "exceeded") continue;
      const words = marginInWords(outcome);
      // A part's own acceptance figure that is missed by less than the uncertainty is undecided, not failed.
      const undecided = outcome.acceptance && -outcome.margin < outcome.uncertainty;
      const source = outcome.placed.syntax.source;
      yield {
        range: rangeOn(outcome.placed, outcome.span),
        ...(undecided ? { severity: "warning" } : {}),
        message: words
          ? `This limit does not hold: ${words.value} against ${words.limit}, ${words.room} beyond it.`
          : "This limit does not hold.",
        advice:
          (undecided
            ? `It is missed by less than the uncertainty (${words?.uncertainty ?? ""}): measure again with a better instrument before the part is turned down.`
            : "Stop and put it right, or check the reading.") +
          (source ? ` The limit comes from: ${source.text}.` : ""),
      };
    }
  },
};

export const page: RulePage = {
  title: "A limit that does not hold",
  means: "A value lies beyond its limit. A list must meet the limit with every reading.",
  mend: "Bring the value back inside, or correct the reading or the limit if one of them is wrong.",
  source: "ISO 14253-1 and JCGM 106:2012 for deciding with uncertainty; here always on the cautious side.",
  breaks: {
    note: "```readings\ntest pressure: 1.20 psi\n```\n\n```limits\ntest pressure <= 1 psi   source: service information for this lamp\n```\n",
  },
  keeps: {
    note: "```readings\ntest pressure: 0.80 psi\n```\n\n```limits\ntest pressure <= 1 psi   source: service information for this lamp\n```\n",
  },
};
