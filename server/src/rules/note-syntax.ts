import type { LineProblem } from "../language/syntax.ts";
import { markedLines } from "../note/marked-lines.ts";
import { logReports } from "./log-reports.ts";
import { type Report, type Rule, type RulePage, rangeOn, replace, type Subject } from "./rule.ts";

/** Reports what the line reader found under one rule's id. */
export function* lineProblems(subject: Subject, id: LineProblem["rule"]): Iterable<Report> {
  for (const { block, index } of markedLines(subject.note, "broken")) {
    const placed = block.lines[index];
    const problem = placed?.syntax.problems[0];
    if (placed && problem?.rule === id) yield reportOf(problem, placed);
  }
}

export const reportOf = (problem: LineProblem, placed: Parameters<typeof rangeOn>[0]): Report => ({
  range: rangeOn(placed, problem.span),
  message: problem.message,
  advice: problem.advice,
  fixes: problem.fixes.map((fix) => ({
    title: fix.title,
    edits: [{ range: rangeOn(placed, fix.span), text: fix.text }],
    kind: "choice",
  })),
});

export const rule: Rule = {
  id: "note/syntax",
  severity: "error",
  why: "A line that cannot be read counts for nothing: its value is in no formula and no limit watches over it.",
  *check(subject): Iterable<Report> {
    yield* lineProblems(subject, "note/syntax");
    yield* logReports(subject);
    for (const { problem, placed } of subject.problems("note/syntax")) {
      yield { range: rangeOn(placed, problem.span), message: problem.message, advice: problem.advice };
    }
    yield* strays(subject.note);
    for (const block of subject.note.blocks) {
      if (block.closed) continue;
      yield {
        range: block.info,
        message: "This block is never closed, so all that follows counts as part of it.",
        advice: "Close it with a line of three backticks (or the same marks that open it).",
      };
    }
  },
};

/** Any other fence is left alone, but what was meant as a block would go unchecked without a word. */
function* strays({ strays: found, text }: Subject["note"]): Iterable<Report> {
  for (const { range, meant } of found) {
    const written = text.slice(range.from, range.to);
    yield {
      range,
      severity: "warning",
      message: `A fence marked \`${written}\` is not read, so nothing in it is checked.`,
      advice: `Write \`${meant}\`.`,
      fixes: [replace(`Write ${meant}`, range, meant, "choice")],
    };
  }
}

export const page: RulePage = {
  title: "A line that cannot be read",
  means:
    "A line inside a block does not have the form that the block takes. Its name still counts as defined, so that one mistake gives one finding.",
  mend: "Bring the line into form: `name: value unit`, `name = formula`, a comparison, or `time step: remark`.",
  fix: "Where only one meaning is possible, writes the line as it must have been meant.",
  breaks: { note: "```readings\ntest pressure 0.8 psi\n```\n" },
  keeps: { note: "```readings\ntest pressure: 0.8 psi\n```\n" },
};
