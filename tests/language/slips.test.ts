// Lines as somebody writes them who knows the work and not the format. What is offered is the one thing that can be
// meant; the expectations are a technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { readLimitsLine } from "../../server/src/language/limits-line.ts";
import { readReadingsLine } from "../../server/src/language/readings-line.ts";
import { readSeriesLine } from "../../server/src/language/series-line.ts";
import { readStepsLine } from "../../server/src/language/steps-line.ts";
import type { LineProblem } from "../../server/src/language/syntax.ts";
import { analyzeText } from "../support/analyze-text.ts";

/** The line with its first fix, and what was said. */
function mended(line: string, problems: readonly LineProblem[]): readonly [says: string, becomes: string] {
  const [problem] = problems;
  if (!problem || problems.length > 1) throw new Error(`${problems.length} problems: ${line}`);
  const [fix] = problem.fixes;
  return [problem.message, fix ? line.slice(0, fix.span.from) + fix.text + line.slice(fix.span.to) : line];
}

describe("a line of steps", () => {
  it.each([
    [
      "08:40: assess: droplets",
      "A `:` stands behind the time, where a blank belongs.",
      "08:40 assess: droplets",
    ],
    ["8:40, assess: fog", "A `,` stands behind the time, where a blank belongs.", "08:40 assess: fog"],
    ["8.50 isolate power", "`8.50` is not written as a time.", "08:50 isolate power"],
    ["0855 block vents", "`0855` is not written as a time.", "08:55 block vents"],
    ["9h30 block vents", "`9h30` is not written as a time.", "09:30 block vents"],
    ["9:10am block vents", "`9:10am` is not written as a time.", "09:10 block vents"],
    ["9:10 pm block vents", "`9:10 pm` is not written as a time.", "21:10 block vents"],
    ["12:05 a.m. block vents", "`12:05 a.m.` is not written as a time.", "00:05 block vents"],
    ["08:40:15 block vents", "`08:40:15` is not written as a time.", "08:40 block vents"],
    ["14 block vents", "This step has no time.", "--:--  14 block vents"],
    ["* 08:55 block vents", "The `*` before the time belongs to a list.", "08:55 block vents"],
    ["- 8:55 block vents", "The `-` before the time belongs to a list.", "8:55 block vents"],
    ["[09:00] locate: found", "The time stands in brackets, `[09:00]`.", "09:00 locate: found"],
    ["13:10 pm block vents", "`13:10 pm` is no time of the day.", "13:10 pm block vents"],
    ["25:10 block vents", "`25:10` is no time of the day.", "25:10 block vents"],
    ["-- seal", "`--` is not read as still to do.", "--:--  seal"],
    ["--:--seal", "`--:--` is not read as still to do.", "--:--  seal"],
    ["2031/03/06", "`2031/03/06` is not read as a day.", "2031-03-06"],
    ["24.03.2031", "`24.03.2031` is not read as a day.", "2031-03-24"],
    ["04.03.2031", "`04.03.2031` is not read as a day. It can be read as two different days.", "2031-03-04"],
    [
      "09:25 locate [seam] found",
      "A colon is missing between the place and the remark.",
      "09:25 locate [seam]: found",
    ],
  ])("%s", (line, says, becomes) => {
    expect(mended(line, readStepsLine(line).problems)).toEqual([says, becomes]);
  });

  it("is read on behind a place that lacks its colon", () => {
    expect(readStepsLine("09:25 locate [seam] found, 0.5 psi")).toMatchObject({
      outcome: { word: "found" },
      quantities: [{ number: { value: 0.5 } }],
    });
  });

  it.each([
    ["pressurize 0.8 psi", "pressurize: 0.8 psi"],
    ["Smoke in 0.8 psi", "Smoke in: 0.8 psi"],
    ["block vents, both", "block vents: both"],
    ["dry until 12:00: warm air 50 degC", "dry: warm air 50 degC until 12:00"],
    ["dry until 9:30", undefined],
    ["block", "block vents"],
    ["locate upper seam: found", "locate [upper seam]"],
    ["releive pressure: slowly", "relieve pressure"],
    ["unblock vents.", undefined],
    ["releive pressure", "relieve pressure"],
    ["had a coffee", undefined],
  ])("with `%s` in the place of a step", (step, offered) => {
    const text = `---\njob: 1\nprocedure: lamp-moisture\ndate: 2031-03-04\n---\n\n\`\`\`steps\n09:00 ${step}\n\`\`\`\n`;
    const found = analyzeText(text).findings.filter(({ rule }) => rule === "note/unknown-step");
    expect(found[0]?.fixes[0]?.edits[0]?.text).toBe(offered);
    expect(found).toHaveLength(/^(?:unblock vents\.|dry until 9:30)$/.test(step) ? 0 : 1);
  });
});

describe("a limit", () => {
  it.each([
    ["test pressure max 1 psi", "test pressure <= 1 psi"],
    ["test pressure max. 0.5 psi source: maker", "test pressure <= 0.5 psi source: maker"],
    ["rest voltage is at least 12.2 V", "rest voltage >= 12.2 V"],
    ["flow below 0.5 L/min (acceptance)", "flow < 0.5 L/min (acceptance)"],
    ["flow not over 0.5 L/min", "flow <= 0.5 L/min"],
    ["flow =< 0.5 L/min", "flow <= 0.5 L/min"],
    ["flow => 0.5 L/min", "flow >= 0.5 L/min"],
    ["flow: 0.5 L/min", "flow <= 0.5 L/min"],
  ])("%s", (line, becomes) => {
    expect(mended(line, readLimitsLine(line).problems)[1]).toBe(becomes);
    expect(readLimitsLine(becomes).problems).toEqual([]);
  });

  it.each(["max pressure <= 1 psi", 'medium is "smoke under 2 psi"', "dry", "a < 2 and b > 3"])(
    "that stands as it is: %s",
    (line) => {
      expect(readLimitsLine(line).problems).toEqual([]);
    },
  );
});

describe("a reading", () => {
  it.each([
    ["p: 0.7-0.8 psi", "p: 0.75 psi ± 0.05 psi"],
    ["p: 0.7 – 0.9 psi", "p: 0.8 psi ± 0.1 psi"],
    ["p: 0.7 psi to 0.8 psi", "p: 0.75 psi ± 0.05 psi"],
    ["humidity: 60..65 %", "humidity: 62.5 % ± 2.5 %"],
    ["n: 3 bis 5", "n: 4 ± 1"],
    ["p: 0.8-0.7 psi", "p: 0.8-0.7 psi"],
  ])("that is a range: %s", (line, becomes) => {
    const [says, made] = mended(line, readReadingsLine(line).problems);
    expect(says).toMatch(/is a range, and a reading is one value\.$/);
    expect(made).toBe(becomes);
  });

  it.each([
    ["Flow 0.4 L/min", "`Flow` has no colon behind it.", "Flow: 0.4 L/min"],
    ["hose length 3 m", "`hose length` has no colon behind it.", "hose length: 3 m"],
    ["test pressure\t0.8 psi", "`test pressure` has no colon behind it.", "test pressure:\t0.8 psi"],
    ["| flow | 0.42 L/min |", "A row of a table stands here.", "flow: 0.42 L/min"],
    ["| flow | 0.42 | L/min |", "A row of a table stands here.", "flow: 0.42 L/min"],
    ["| name | value |", "A row of a table stands here.", "| name | value |"],
    ["p: 0.8 psi (regulator)", "`(regulator)` does not belong after a value.", "p: 0.8 psi # (regulator)"],
    ["p: 0.8 psi // again", "`//` does not belong after a value.", "p: 0.8 psi #  again"],
    ["p: 0.8 psi with P2", "`with` does not belong after a value.", "p: 0.8 psi via P2"],
    ["p: 0.8 psi #again", "`#again` does not belong after a value.", "p: 0.8 psi # again"],
    ["p: 0.8 psi +-0.05", "`+-0.05` does not belong after a value.", "p: 0.8 psi ± 0.05"],
    // What is left over may belong to the unit, so nothing is offered.
    ["p: 14 in of water", "`of` does not belong after a value.", "p: 14 in of water"],
  ])("in other signs: %s", (line, says, becomes) => {
    expect(mended(line, readReadingsLine(line).problems)).toEqual([says, becomes]);
  });

  it.each([
    ["e = a x b", "a * b"],
    ["g = 2a", " * a"],
    ["h = a xb", undefined],
  ])("that multiplies: %s", (line, offered) => {
    const text = `---\njob: 1\n---\n\n\`\`\`readings\na: 3 mm\nb: 4 mm\n${line}\n\`\`\`\n`;
    expect(analyzeText(text).findings[0]?.fixes[0]?.edits[0]?.text).toBe(offered);
  });

  it.each(["p: 0.8 psi - 3", "odometer: 41200 km at 09:10", "p: -0.8 psi", "t: 20 degC ± 1 K"])(
    "that is none: %s",
    (line) => {
      const { problems } = readReadingsLine(line);
      expect(problems.filter(({ message }) => message.includes("range"))).toEqual(
        line === "p: 0.8 psi - 3" ? problems : [],
      );
    },
  );

  it("that the procedure knows is asked for its unit", () => {
    const inLamp = (line: string) =>
      analyzeText(
        `---\njob: 1\nprocedure: lamp-moisture\n---\n\n\`\`\`readings\n${line}\n\`\`\`\n`,
      ).findings.flatMap(({ rule, message }) => (rule === "unit/mismatch" ? [message] : []));
    expect(inLamp("test pressure: 0.8")).toEqual(["`test pressure` has no unit, and is a pressure."]);
    expect(inLamp("test pressure: 0.8 L/min")).toEqual([
      "`test pressure` is a volume flow here, and should be a pressure.",
    ]);
    expect(inLamp("test pressure: 0.8 psi")).toEqual([]);
    expect(inLamp("lens number: 8")).toEqual([]);
    expect(inLamp("test pressure: not read")).toEqual([]);
  });
});

describe("a test's outcome in other words", () => {
  const lamp = (step: string) =>
    analyzeText(
      `---\njob: 1\nprocedure: lamp-moisture\ndate: 2031-03-04\n---\n\n\`\`\`steps\n09:00 ${step}\n\`\`\`\n`,
    ).findings.find(({ rule }) => rule === "sequence/no-outcome");

  it.each([
    ["function check: OK", "pass"],
    ["function check: passed, all lights", "pass, all lights"],
    ["function check: not ok, left side dark", "fail, left side dark"],
    ["water test [seam]: still leaks", "fail, still leaks"],
    ["locate [seam]: yes, bubbles", "found, bubbles"],
    ["locate [seam]: not found", "none"],
    ["assess: water inside", "droplets, water inside"],
    ["inspect: looks good", undefined],
    ["locate [seam]: okra", undefined],
  ])("%s", (step, becomes) => {
    expect(lamp(step)?.fixes[0]?.edits[0]?.text).toBe(becomes);
  });
});

// 85 C is 85 coulombs to a standard, and so would be held to no limit.
describe("degrees without their letters in a remark", () => {
  it.each([
    ["dry: warm air 85 C until 11:00", ["unit/unknown"]],
    ["dry: warm air 85C", ["unit/unknown"]],
    ["dry: warm air 85 degrees", ["unit/unknown"]],
    ["dry: warm air 45 degC", []],
    // No temperature is looked for there.
    ["block vents: pin 3 C", []],
  ])("%s", (step, rules) => {
    const text = `---\njob: 1\nprocedure: lamp-moisture\ndate: 2031-03-04\n---\n\n\`\`\`steps\n09:00 ${step}\n\`\`\`\n`;
    const found = analyzeText(text).findings.map(({ rule }) => rule);
    expect(found.filter((rule) => rule === "unit/unknown")).toEqual(rules);
  });
});

describe("a fence that is no block but for a slip", () => {
  const marked = (mark: string) =>
    analyzeText(`---\njob: 1\n---\n\n\`\`\`${mark}\np: 0,8 psi\n\`\`\`\n`).findings.map(
      ({ severity, message, fixes }) => [severity, message, fixes[0]?.edits[0]?.text],
    );

  it.each([
    ["Readings", "readings"],
    ["reading", "readings"],
    ["STEP", "steps"],
    ["limit", "limits"],
    ["Series decay", "series"],
  ])("%s", (mark, kind) => {
    const [word] = mark.split(" ");
    expect(marked(mark)).toEqual([
      ["warning", `A fence marked \`${word}\` is not read, so nothing in it is checked.`, kind],
    ]);
  });

  it.each(["", "text", "json", "stepwise", "reading-list"])("is told from somebody else's: `%s`", (mark) => {
    expect(marked(mark)).toEqual([]);
  });
});

describe("a table that is pasted into a series", () => {
  it("may have tabs between its columns", () => {
    expect(readSeriesLine("time [s]\tpressure [inH2O]", undefined)).toMatchObject({
      columns: [{ name: { text: "time" } }, { name: { text: "pressure" }, unit: { text: "inH2O" } }],
      problems: [],
    });
    expect(readSeriesLine("60\t11.4", 2)).toMatchObject({
      cells: [{ value: 60 }, { value: 11.4 }],
      problems: [],
    });
    // Tabs that only line up what commas separate are blanks.
    expect(readSeriesLine("60,\t11.4", 2)).toMatchObject({ cells: [{ value: 60 }, { value: 11.4 }] });
  });

  it("is told of once where it has semicolons", () => {
    const text = "---\njob: 1\n---\n\n```series decay\nt [s]; p [Pa]\n0; 100,5\n10; 99,8\n```\n";
    const { findings } = analyzeText(text);
    expect(findings.map(({ message }) => message)).toEqual([
      "The columns are separated by semicolons, and a series block takes commas.",
    ]);
  });
});
