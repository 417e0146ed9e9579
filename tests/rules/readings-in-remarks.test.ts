// What a step's own line gives need not stand among the readings as well. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

function missingIn(procedure: string, steps: readonly string[], readings: readonly string[] = []) {
  const block = readings.length > 0 ? ["```readings", ...readings, "```", ""] : [];
  const text = [
    "---",
    "job: 2031-0042",
    `procedure: ${procedure}`,
    "date: 2031-03-04",
    "---",
    "",
    ...block,
    "```steps",
    ...steps,
    "```",
    "",
  ].join("\n");
  return analyzeText(text)
    .findings.filter(({ rule }) => rule === "reading/missing")
    .map(({ message }) => /reading `([^`]+)`/.exec(message)?.[1]);
}

describe("a reading that is asked for", () => {
  it.each<[says: string, procedure: string, steps: readonly string[], missing: readonly string[]]>([
    ["is given by the step's line", "lamp-moisture", ["09:10  pressurize: smoke, 0.8 psi"], []],
    [
      "is not given by a line without figures",
      "lamp-moisture",
      ["09:10  pressurize: smoke"],
      ["test pressure"],
    ],
    [
      "is not given by a figure of another kind",
      "lamp-moisture",
      ["09:10  pressurize: 2 L/min"],
      ["test pressure"],
    ],
    [
      "is given by one of several lines",
      "lamp-moisture",
      ["09:10  pressurize: smoke", "09:20  pressurize: smoke, 0.8 psi"],
      [],
    ],
    [
      "is not given by a step still to do",
      "lamp-moisture",
      ["09:10  pressurize", "--:--  pressurize: 1 psi"],
      ["test pressure"],
    ],
    // The pressure that was pumped up is not the lowest one marked on the system.
    [
      "is not another one of the same kind",
      "cooling-pressure",
      ["09:10  pressurize: 14 psi"],
      ["lowest marking"],
    ],
    ["is not the limit of the tract", "boost-leak", ["09:10  pressurize: air, 1 bar"], ["boost limit"]],
    ["is the gas that the line names", "evap-leak", ["09:10  pressurize: nitrogen, 13 inH2O"], []],
    ["is a gas that the line must name", "evap-leak", ["09:10  pressurize: 13 inH2O"], ["medium"]],
    ["is the draw that was measured", "key-off-draw", ["09:10  measure: 31 mA"], []],
    [
      "is voltage as well as current",
      "tester-comparison",
      ["09:10  measure current [A]: 6.2 A at 12.4 V"],
      [],
    ],
  ])("%s", (_, procedure, steps, missing) => {
    expect(missingIn(procedure, steps)).toEqual(missing);
  });

  it("is still found among the readings", () => {
    expect(missingIn("lamp-moisture", ["09:10  pressurize: smoke"], ["smoke pressure: 0.8 psi"])).toEqual([]);
  });
});
