import { describe, expect, it } from "vitest";
import { readQuestion } from "../../server/src/base/ask.ts";
import { Base } from "../../server/src/base/base.ts";
import { readCondition } from "../../server/src/base/condition.ts";
import { examplesFrom } from "../../server/src/base/examples.ts";
import { findLines, placesOf, termsOf } from "../../server/src/base/places.ts";
import { QUESTIONS } from "../../server/src/base/questions.ts";
import { earlierJobs } from "./earlier-jobs.ts";
import { recordOf, recordOfText } from "./records.ts";

const kindOf = (text: string): string => readQuestion(text).kind;

describe("one line for conditions and for words", () => {
  it("takes what compares, asks or denies for a condition, also half typed", () => {
    for (const text of [
      "leak size > 0.3 mm",
      "leak size >",
      'procedure is "lamp-moisture"',
      "procedure is lamp",
      "Procedure is",
      'medium is "smoke"',
      'done("seal")',
      "done(",
      "not has(flow)",
      'not done("seal")',
      "leak size ≥ 1 mm",
      ...QUESTIONS.map(({ form }) => form),
    ])
      expect([text, kindOf(text)]).toEqual([text, "condition"]);
  });

  it("takes everything else for words", () => {
    for (const text of [
      "droplets lens",
      '"droplets inside"',
      "what is wet",
      "cap and seal or clip",
      "cylinder (3)",
      "nothing found",
      "done",
      "",
    ])
      expect([text, kindOf(text)]).toEqual([text, "words"]);
  });
});

const NOTE = `---
job: 2031-0042
procedure: lamp-moisture
subject: right rear lamp
vehicle: { description: farm utility, year: 2024, odometer: 41 200 km }
complaint: droplets inside the lens
status: open
---

Water came in at the lower seam when it was washed.

\`\`\`readings
test pressure: 0.80 psi
flow: 0.42 L/min
leak size [mm] = orifice size(flow, drop: test pressure)
\`\`\`

\`\`\`readings retest
flow: 0.01 L/min
room humidity: 140 %     # accept reading/implausible: bench test
\`\`\`

\`\`\`steps
2031-03-04
08:40  assess: droplets
09:25  locate [lower seam]: found
09:40  dry: fan until 11:10
--:--  seal [lower seam]
\`\`\`
`;
const record = recordOfText("a.md", NOTE);
const lines = NOTE.split("\n");
const lineOf = (start: string): number => lines.findIndex((line) => line.startsWith(start)) + 1;

/** The lines for which the note meets a condition. */
function placed(text: string): (number | string)[][] {
  const reading = readCondition(text, new Base([record]));
  if (!reading.ok) throw new Error(`${text}: ${reading.message}`);
  const label = reading.condition.meets(0);
  if (label === undefined) throw new Error(`${text} is not met`);
  const places = placesOf(reading.condition, record, 0, label);
  return findLines(NOTE, places).map(({ line, says }) => [line, says]);
}

describe("the place for which a note is found", () => {
  it("is the line of the value, in the block that meets the condition", () => {
    expect(placed("leak size > 0.1 mm")[0]?.[0]).toBe(lineOf("leak size"));
    expect(placed("leak size > 0.1 mm")[0]?.[1]).toMatch(/^leak size: 0\.\d+ mm ± /);
    expect(placed("flow > 0.1 L/min")[0]?.[0]).toBe(lineOf("flow: 0.42"));
    expect(placed("flow < 0.1 L/min")).toEqual([
      [lineOf("flow: 0.01"), expect.stringMatching(/^retest flow: 0\.01/)],
    ]);
    expect(placed("retest flow < 0.1 L/min")[0]?.[0]).toBe(lineOf("flow: 0.01"));
  });

  it("is only the side of an `or` that holds, and nothing under a `not`", () => {
    expect(placed("leak size > 90 mm or test pressure < 1 psi").map(([line]) => line)).toEqual([
      lineOf("test pressure"),
    ]);
    expect(placed('not leak size > 90 mm and done("dry")').map(([line]) => line)).toEqual([lineOf("09:40")]);
  });

  it("is the line of a step, a finding, a key of the front matter, or of the words", () => {
    expect(placed('done("locate", "lower seam")')[0]).toEqual([
      lineOf("09:25"),
      expect.stringContaining("2031-03-04 09:25  locate [lower seam]"),
    ]);
    expect(placed('planned("seal")')[0]?.[0]).toBe(lineOf("--:--  seal"));
    expect(placed('outcome of("locate", "found")')[0]?.[0]).toBe(lineOf("09:25"));
    expect(placed('duration("dry") > 1 h')[0]?.[0]).toBe(lineOf("09:40"));
    expect(placed('accepted("reading/implausible")')[0]?.[0]).toBe(lineOf("room humidity"));
    expect(placed("vehicle odometer > 1000 km")[0]).toEqual([
      lineOf("vehicle:"),
      lines[lineOf("vehicle:") - 1],
    ]);
    expect(placed('status is "open"')[0]?.[0]).toBe(lineOf("status"));
    // The day is that of the steps, since the front matter has none.
    expect(placed('date == "2031-03"')[0]?.[0]).toBe(lineOf("2031-03-04"));
    expect(placed('says("washed seam")')[0]?.[0]).toBe(lineOf("Water came in"));
  });

  it("is the first line that holds most of the words", () => {
    const found = findLines(NOTE, [{ kind: "words", terms: termsOf("lens droplets") }]);
    expect(found).toEqual([{ line: lineOf("complaint"), says: "complaint: droplets inside the lens" }]);
    expect(findLines(NOTE, [{ kind: "words", terms: termsOf("gearbox") }])).toEqual([]);
    expect(findLines("", [{ kind: "field", key: "status" }])).toEqual([]);
  });
});

describe("examples of how to ask", () => {
  it("name what the notes measure most, and can be asked of them", () => {
    const notes = earlierJobs.map(recordOf);
    const examples = examplesFrom(notes);
    expect(examples.length).toBeGreaterThan(2);
    const base = new Base(notes);
    for (const example of examples) {
      const reading = readCondition(example, base);
      expect([example, reading.ok]).toEqual([example, true]);
      expect(kindOf(example)).toBe("condition");
    }
    expect(examplesFrom([])).toEqual([]);
  });
});
