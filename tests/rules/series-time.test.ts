// A time that runs back in a series. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

function told(...lines: readonly string[]) {
  const text = `---\njob: 1\n---\n\n\`\`\`series decay\n${lines.join("\n")}\n\`\`\`\n`;
  return analyzeText(text)
    .findings.filter(({ rule }) => rule === "sequence/time-order")
    .map(({ message, severity, range }) => [severity, text.slice(range.from, range.to), message]);
}

describe("the time of a series", () => {
  it("is told of where it first runs back", () => {
    expect(told("t [s], p [inH2O]", "0, 12", "60, 11", "0, 12", "60, 11", "30, 10")).toEqual([
      ["warning", "0", "The time runs back in row 3 of this series, from 60 to 0 s."],
    ]);
  });

  it.each([
    ["runs on", ["t [s], p [inH2O]", "0, 12", "60, 11", "60, 11", "90, 10"]],
    ["has no unit", ["n, p [inH2O]", "3, 12", "2, 11"]],
    ["is about something else", ["depth [mm], cure time [h]", "3, 24", "2, 12"]],
  ])("is let be where it %s", (_, lines) => expect(told(...lines)).toEqual([]));

  it("is looked for behind another column", () => {
    expect(told("p [inH2O], time [min]", "12, 1.5", "11, 1.0")).toHaveLength(1);
  });
});
