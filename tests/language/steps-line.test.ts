// Lines of steps, limits and series blocks, statement by statement. Source: the project's own format,
// grammar/FORMAT.md.
import { describe, expect, test } from "vitest";
import { readLimitsLine } from "../../server/src/language/limits-line.ts";
import { readSeriesLine } from "../../server/src/language/series-line.ts";
import { readStepsLine } from "../../server/src/language/steps-line.ts";
import type { StepLine } from "../../server/src/language/syntax.ts";

const step = (line: string): StepLine => {
  const syntax = readStepsLine(line);
  expect(syntax.problems, line).toEqual([]);
  if (syntax.kind !== "step") throw new Error(`${line} was read as ${syntax.kind}`);
  return syntax;
};

describe("steps", () => {
  test("time, step, place, outcome and remark", () => {
    expect(step("09:25  locate [lower seam]: found, bubbles confirm")).toMatchObject({
      time: { minutes: 9 * 60 + 25 },
      step: { key: "locate" },
      place: { text: "lower seam" },
      outcome: { word: "found" },
      remark: { text: "found, bubbles confirm" },
    });
  });

  test.each([
    ["--:--  inspect", undefined, "inspect"],
    ["8:05 isolate power", 485, "isolate power"],
    ["23:59\thand over", 1439, "hand over"],
    ["00:00 water test: pass", 0, "water test"],
    ["09:10 dry and wait", 550, "dry and wait"],
  ])("%s", (line, minutes, key) => {
    expect(step(line)).toMatchObject({ step: { key } });
    expect(step(line).time.minutes).toBe(minutes);
  });

  test("the place is free text in any script", () => {
    expect(step("--:-- seal [الوصلة السفلى]: done").place?.text).toBe("الوصلة السفلى");
    expect(step("--:-- seal [seam 2, 💧 side]: done").place?.text).toBe("seam 2, 💧 side");
    expect(step("--:-- seal []: done").place).toBe(undefined);
  });

  test.each([
    ["found", "found"],
    ["Found, left seam", "found"],
    ["none", "none"],
    ["pass", "pass"],
    ["fail, drops again", "fail"],
    ["droplets", "droplets"],
    ["fog on the inside", "fog"],
    ["failed", undefined],
    ["foggy", undefined],
    ["pass-through hose off", undefined],
    ["nothing found", undefined],
    ["none\u0301", undefined],
  ])("the remark “%s” has the outcome %s", (remark, word) => {
    expect(step(`09:10 retest: ${remark}`).outcome?.word).toBe(word);
  });

  test("a last until gives the step an end, with a date where it needs one", () => {
    expect(step("09:40 dry: fan 45 degC until 11:10").until).toMatchObject({ time: { minutes: 670 } });
    expect(step("09:40 dry: until 2031-03-05 07:30").until).toMatchObject({
      date: { iso: "2031-03-05" },
      time: { minutes: 450 },
    });
    expect(step("09:40 dry: fan until\u00a011:10").until).toMatchObject({ time: { minutes: 670 } });
    expect(step("09:40 dry: until 11:10 by fan").until).toBe(undefined);
    expect(step("09:40 dry: fan until noon").until).toBe(undefined);
    expect(step("11:50 cure until 12:30")).toMatchObject({
      step: { text: "cure" },
      until: { time: { minutes: 750 } },
      problems: [],
    });
    expect(step("11:50 cure [seam: left] until 2031-03-05 12:30")).toMatchObject({
      step: { text: "cure" },
      place: { text: "seam: left" },
      until: { time: { minutes: 750 } },
      problems: [],
    });
  });

  test("quantities of a remark, the end time left out", () => {
    const units = (remark: string) =>
      step(`09:10 pressurize: ${remark}`).quantities.map((q) => `${q.number.value} ${q.unit.text}`);
    expect(units("smoke, 0.8 psi")).toEqual(["0.8 psi"]);
    expect(units("0.5 psi, then 0.8psi until 11:10")).toEqual(["0.5 psi", "0.8 psi"]);
    expect(units("3 in H2O for 20 min")).toEqual(["3 in H2O", "20 min"]);
    expect(units("20 kg/m3 2 bar")).toEqual(["20 kg/m3", "2 bar"]);
    expect(units("P2 at hose 3")).toEqual([]);
    expect(units("1/2 psi, then 1 1/2 bar, .5 bar")).toEqual(["0.5 psi", "1.5 bar", "0.5 bar"]);
    expect(units("0.5-2.5 psi")).toEqual(["2.5 psi"]);
    expect(units("2031-03-04 A, P2-5 psi, at 09:10 h")).toEqual([]);
  });

  test("a decimal comma in a remark is never read as the number behind it", () => {
    const line = step("09:10 pressurize: smoke, 0,5 psi, then 0.8 psi");
    expect(line.quantities.map((q) => q.number.value)).toEqual([0.8]);
    expect(line.commas).toMatchObject([{ problem: { span: { from: 25, to: 28 } }, unit: { text: "psi" } }]);
  });

  test.each([
    ["2031-03-04", "2031-03-04"],
    ["2032-02-29  # leap day", "2032-02-29"],
  ])("%s opens a day", (line, iso) => {
    expect(readStepsLine(line)).toMatchObject({ kind: "date", date: { iso }, problems: [] });
  });

  test.each([
    "2031-02-30",
    "2031-13-01",
    "2031-2-3",
    "2031-03-04 08:40 assess",
    "25:10 assess",
    "09:60 assess",
    "9.10 assess",
    "0910 assess",
    "assess: fog",
    "09:10",
    "09:10 : fog",
    "09:10assess",
    "09:10 seal [seam: done",
    "09:10 seal [seam] done",
    "- 09:10 seal",
  ])("%s is one finding", (line) => {
    expect(readStepsLine(line).problems).toHaveLength(1);
  });

  test("times in other dress are offered in the right one", () => {
    for (const line of ["9.10 assess", "0910 assess", "09h10 assess"]) {
      const fix = readStepsLine(line).problems[0]?.fixes[0];
      expect(fix?.text, line).toBe("09:10");
    }
  });
});

describe("limits", () => {
  test("condition, acceptance, source and comment", () => {
    const line = "leak rate <= 2 cm3/min (acceptance)   source: service information, page 4  # see photo";
    const syntax = readLimitsLine(line);
    expect(syntax).toMatchObject({
      kind: "limit",
      acceptance: true,
      source: { text: "service information, page 4" },
      comment: { text: "see photo" },
      problems: [],
    });
  });

  test.each([
    "a <= 1 psi",
    "a <= 1 psi and b > 2 A",
    'medium is "smoke" or medium is "air"',
    "not wet",
    "wet == no",
    "engine off",
    "(a < b) and (c < d)",
    "battery voltage - 0.2 V > 12.4 V\u00a0source:\u00a0label",
  ])("%s", (line) => {
    expect(readLimitsLine(line)).toMatchObject({ kind: "limit", problems: [] });
  });

  test.each([
    "a + b",
    "5 psi",
    "a <= ",
    "a < b < c",
    "a <= 1 psi source:",
    "a <= 1 psi really",
    "a: 5 psi",
    "<= 1 psi",
  ])("%s is one finding", (line) => {
    expect(readLimitsLine(line).problems).toHaveLength(1);
  });
});

describe("series", () => {
  test("a header names columns with units in brackets", () => {
    const header = readSeriesLine("t [s], p [ inH2O ], T [degC], n, U [[in_i'H2O]]", undefined);
    expect(header).toMatchObject({ kind: "header", problems: [] });
    expect(header.kind === "header" && header.columns.map((c) => [c.name.text, c.unit?.text])).toEqual([
      ["t", "s"],
      ["p", "inH2O"],
      ["T", "degC"],
      ["n", undefined],
      ["U", "[in_i'H2O]"],
    ]);
  });

  test("rows hold plain numbers, perhaps negative; an empty cell is a gap", () => {
    const row = readSeriesLine("0,  -12.0, 19.5, ", 4);
    expect(row).toMatchObject({ kind: "row", problems: [] });
    expect(row.kind === "row" && row.cells.map((cell) => cell?.value)).toEqual([0, -12, 19.5, undefined]);
  });

  test.each([
    ["0, 12.0", 3],
    ["0, 12.0, 19.5, 4", 3],
    ["0, 12.0 inH2O, 19.5", 3],
    ["0, twelve, 19.5", 3],
    ["0; 12; 19", 3],
  ])("%s under %i columns is one finding", (line, columns) => {
    expect(readSeriesLine(line, columns).problems).toHaveLength(1);
  });

  test("decimal commas in a whole row are told as such", () => {
    expect(readSeriesLine("0,5,12,3", 2).problems[0]?.rule).toBe("unit/decimal-comma");
  });

  test("options stand before the header", () => {
    expect(readSeriesLine("from: logs/decay.csv", undefined)).toMatchObject({
      kind: "option",
      key: { key: "from" },
      value: { text: "logs/decay.csv" },
    });
  });
});
