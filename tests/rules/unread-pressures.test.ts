// How pressures are written in workshops; a technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const findingsFor = (remark: string) =>
  analyzeText(
    [
      "---\njob: 1\nprocedure: lamp-moisture\ndate: 2031-03-04\n---\n",
      "```readings\ntest pressure: 0.80 psi\n```\n",
      "```steps",
      "08:50  isolate power: key off",
      "08:55  block vents",
      `09:10  pressurize: ${remark}`,
      "09:30  relieve pressure\n```\n",
    ].join("\n"),
  ).findings.filter(({ severity, rule }) => severity === "error" && rule !== "sequence/incomplete");

describe("a pressure in a remark that is not read as one", () => {
  it.each([
    "2½ psi",
    "½ bar",
    "200 mb",
    "200 millibar",
    "2.5 p.s.i.",
    "smoke, 3 pounds",
    "3 lbs/sq in",
    "0.8 psi, then 60 inH20",
    "60 inch water",
    "60 inches of water",
    "60 in. H2O",
    '60" wc',
    "60 in wc",
    "1.5 m of water",
    "three psi",
    "psi 3",
    "1..3 psi",
    "3+ psi",
    "３ psi",
    "3\u2009psi",
  ])("%s is told of", (remark) => {
    expect(findingsFor(remark)).toHaveLength(1);
  });

  it.each(["20 000 Pa", "20'000 Pa", "20\u202f000 Pa"])("%s is not taken for 0 Pa", (remark) => {
    const [finding] = findingsFor(remark);
    expect(finding?.message).toContain(`\`${remark}\` looks like a pressure`);
  });

  it.each([
    "smoke, 0.8 psi",
    "0.5-0.8 psi",
    "0.5 to 0.8 psi",
    "smoke, 2 of 2 ports, 10 min",
    "one in water, one dry, port 3",
    "port 2 in front of the bar",
    "port 2, bar across, 0.8 psi",
    "20 inH2O, psi scale not used",
    "held for 600 s, 5500 Pa",
    "12 in hose, 2 m line, 0.8 psi",
  ])("%s is left alone", (remark) => {
    expect(findingsFor(remark)).toEqual([]);
  });
});
