// One mistake, one finding. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

function rulesIn(...keys: readonly string[]) {
  const front = ["---", ...keys, "procedure: lamp-moisture", "date: 2031-03-04", "---"];
  const text = [...front, "", "```steps", "08:40  assess: fog", "```", ""].join("\n");
  return analyzeText(text)
    .findings.filter(({ severity }) => severity === "error")
    .map(({ rule, range }) => [rule, text.slice(range.from, range.to)]);
}

describe("a mistake in the front matter is told once", () => {
  it.each([
    ["done without an outcome", ["job: 1", "status: done"], "done"],
    ["done with an empty outcome", ["job: 1", "status: done", "outcome:"], "done"],
    ["done with an outcome that there is not", ["job: 1", "status: done", "outcome: fixed"], "fixed"],
    ["a misspelt `job`", ["jobb: 1", "status: open"], "jobb"],
    ["no `job` at all", ["status: open"], "---"],
  ])("%s", (_, keys, where) => {
    expect(rulesIn(...keys)).toEqual([["note/front-matter", where]]);
  });
});
