import { evaluatedLines } from "../analysis/evaluated-lines.ts";
import { recordedState, recordedText } from "../analysis/recording.ts";
import { shownUnit } from "../analysis/showing.ts";
import { type Report, type Rule, type RulePage, rangeOn, replace } from "./rule.ts";

export const rule: Rule = {
  id: "reading/stale-result",
  severity: "warning",
  why: "Whoever reads the note without this tool sees the recorded number and takes it for the result.",
  *check({ note, evaluation, shop }): Iterable<Report> {
    for (const { definition, result } of evaluatedLines(note, evaluation, "recorded")) {
      const { body } = definition;
      if (body.kind !== "line" || body.syntax.kind !== "formula" || result?.kind !== "quantity") continue;
      const { recorded } = body.syntax;
      if (!recorded) continue;
      const state = recordedState(recorded, result, shop.units);
      if (state.kind === "agrees") continue;
      const range = rangeOn(body.placed, recorded.span);
      const unit = shownUnit(result);
      const fresh =
        state.kind === "stale"
          ? recorded.unit
            ? `${state.text} ${recorded.unit.text}`
            : state.text
          : unit
            ? recordedText(result, unit)
            : "";
      yield {
        range,
        message:
          state.kind === "stale"
            ? `The recorded result is out of date: the formula gives ${fresh}.`
            : state.unit === ""
              ? `The recorded result has no unit; the formula gives ${fresh}.`
              : `The formula's result cannot be written in \`${state.unit}\`.`,
        advice: "Record the result anew, or check which of formula and result is right.",
        fixes: fresh === "" ? [] : [replace(`Record ${fresh}`, range, fresh, "safe")],
      };
    }
  },
};

export const page: RulePage = {
  title: "A recorded result that is out of date",
  means:
    "The number behind `≈` is not what the formula gives, rounded half to even to the decimals shown, in the unit shown.",
  mend: "Record the result again after looking at which of the two is right.",
  fix: "Writes the formula's present result with as many decimals as were shown.",
  source: "Rounding half to even: NIST SP 811, B.7.1 (clause from memory).",
  breaks: {
    note: "```readings\ntest pressure: 0.80 psi\nlens area: 310 cm2\nlens force [N] = test pressure * lens area  ≈ 181 N\n```\n",
  },
  keeps: {
    note: "```readings\ntest pressure: 0.80 psi\nlens area: 310 cm2\nlens force [N] = test pressure * lens area  ≈ 171 N\n```\n",
  },
};
