import { markedLines } from "../note/marked-lines.ts";
import { readUnit } from "../units/index.ts";
import { lineProblems, reportOf } from "./note-syntax.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "unit/decimal-comma",
  severity: "error",
  why: "Read the wrong way a comma changes a value a thousandfold, so it is never guessed at.",
  *check(subject): Iterable<Report> {
    yield* lineProblems(subject, "unit/decimal-comma");
    for (const { block, index } of markedLines(subject.note, "comma")) {
      const placed = block.kind === "steps" ? block.lines[index] : undefined;
      if (placed?.syntax.kind !== "step") continue;
      // Which word is a unit the line alone cannot tell: `found at 5,7 and 9,1` holds no value.
      for (const { problem, unit } of placed.syntax.commas ?? []) {
        if (readUnit(unit.text, subject.shop.units).ok) yield reportOf(problem, placed);
      }
    }
  },
};

export const page: RulePage = {
  title: "A decimal comma",
  means: "A number is written with a comma. `0,9` can only mean 0.9, but `1,200` may mean 1.2 or 1200.",
  mend: "Write a decimal point, and no signs between thousands. In a list put a blank after each comma.",
  fix: "Writes the number with a point; where it has two meanings, both are offered.",
  source:
    "ISO 80000-1 and BIPM SI Brochure 5.4.4 (clause from memory) allow point or comma; this format takes the point only.",
  breaks: { note: "```readings\ntest pressure: 0,9 psi\n```\n" },
  keeps: { note: "```readings\ntest pressure: 0.9 psi\nsupply current: 9.1, 9.3, 9.2 A\n```\n" },
};
