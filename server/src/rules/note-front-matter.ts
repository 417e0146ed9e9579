import { missingJobProblem } from "../note/read-front-matter.ts";
import { nearest } from "../text/nearest.ts";
import { listed, type Report, type Rule, type RulePage, replace } from "./rule.ts";

export const rule: Rule = {
  id: "note/front-matter",
  severity: "error",
  why: "Job number, procedure and state are what the note is found by, checked against and handed on with.",
  *check({ note, shop, procedure }): Iterable<Report> {
    const { frontMatter } = note;
    for (const problem of frontMatter.problems) yield asReport(problem);
    const readable = frontMatter.tree?.kind === "map";
    // A key that is `job` but for a slip is told of by itself.
    const misspelt = frontMatter.problems.some(({ fixes }) => fixes.some(({ text }) => text === "job"));
    if (readable && !misspelt && !frontMatter.at.has("job")) yield asReport(missingJobProblem(frontMatter));
    const at = frontMatter.at.get("procedure");
    const named = frontMatter.fields.procedure;
    if (at && named !== undefined && !procedure) {
      const near = nearest(named, shop.procedures.keys(), 3);
      yield {
        range: at,
        message: `No procedure is called \`${named}\`.`,
        advice:
          near.length > 0
            ? `Did you mean ${listed(near)}?`
            : "Write `general` where none fits, or describe the procedure in the shop file.",
        fixes: near.map((id) => replace(`Write ${id}`, at, id, "choice")),
      };
    }
  },
};

const asReport = (problem: ReturnType<typeof missingJobProblem>): Report => ({
  range: problem.range,
  message: problem.message,
  advice: problem.advice,
  fixes: problem.fixes.map((fix) => replace(fix.title, fix.range, fix.text, "choice")),
});

export const page: RulePage = {
  title: "Front matter that is not in order",
  means:
    "A key of the front matter is missing, unknown or of the wrong form, the procedure it names is not known, or the YAML cannot be read.",
  mend: "Correct the key or its value. Keys of your own start with `x-`.",
  fix: "Writes the nearest key or value.",
  breaks: { note: "---\njob: 2031-0042\nstatsu: open\n---\n" },
  keeps: { note: "---\njob: 2031-0042\nstatus: open\n---\n" },
};
