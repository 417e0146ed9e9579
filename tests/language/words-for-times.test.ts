// Times and texts as a telephone or a hurried hand writes them. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { readReadingsLine } from "../../server/src/language/readings-line.ts";
import { analyzeText } from "../support/analyze-text.ts";

function mended(line: string) {
  const { problems } = readReadingsLine(line);
  const fix = problems[0]?.fixes[0];
  return problems.length === 1 && fix
    ? line.slice(0, fix.span.from) + fix.text + line.slice(fix.span.to)
    : line;
}

describe("a reading", () => {
  it.each([
    ["p: 3 psi at 9.15", "p: 3 psi at 09:15"],
    ["p: 3 psi at 9h15 via P2", "p: 3 psi at 09:15 via P2"],
    ["p: 3 psi at 2:05 pm", "p: 3 psi at 2:05 pm"],
    ["medium: “smoke”", 'medium: "smoke"'],
    ["medium: „smoke“", 'medium: "smoke"'],
    ["remark: he said “hi” twice", "remark: he said “hi” twice"],
  ])("%s", (line, becomes) => expect(mended(line)).toBe(becomes));
});

describe("the end of a step in words", () => {
  const told = (...steps: readonly string[]) => {
    const front = "---\njob: 1\nprocedure: lamp-moisture\ndate: 2031-03-04\n---\n\n";
    const text = `${front}\`\`\`steps\n${steps.join("\n")}\n\`\`\`\n`;
    return analyzeText(text)
      .findings.filter(({ rule }) => rule === "sequence/time-order")
      .map(({ range }) => text.slice(range.from, range.to));
  };

  it.each([
    "until tomorrow",
    "until Monday",
    "until next Monday 8:00",
    "until 9.45",
    "until 4 pm",
    "until noon",
  ])("%s is told", (until) => {
    expect(told(`09:00  dry: fan ${until}`)).toEqual([until]);
    expect(told(`--:--  dry: fan ${until}`)).toEqual([until]);
  });

  it.each(["dry: fan until dry", "dry: fan until 11:10", "photo: away until Monday"])("%s is not", (step) => {
    expect(told(`09:00  ${step}`)).toEqual([]);
  });
});
