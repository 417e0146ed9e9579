// What trying the tool as a sceptical technician brought up. The expectations follow from the format's own rules.
import { expect, test } from "vitest";
import { analyzeText, readings } from "../support/analyze-text.ts";

const rules = (text: string) => analyzeText(text).findings.map((finding) => finding.rule);

test("a unit in a remark that is one but for its capitals is not passed over", () => {
  const text =
    "---\njob: x\nprocedure: lamp-moisture\n---\n\n```steps\n2031-03-04\n09:10  photo: gauge at 2.5 PSI\n```\n";
  const finding = analyzeText(text).findings.find((one) => one.rule === "unit/unknown");
  expect(finding?.fixes.map((fix) => fix.edits[0]?.text)).toContain("psi");
});

test("words behind a number in a remark are no units", () => {
  const text =
    "---\njob: x\nprocedure: lamp-moisture\n---\n\n```steps\n2031-03-04\n09:10  photo: 2 of 3 caps, 4 screws\n```\n";
  expect(rules(text)).not.toContain("unit/unknown");
});

test("a whole column where one value belongs is said", () => {
  const series = "```series decay\ntime [s], p [kPa]\n0, 3.0\n60, 2.0\n```\n";
  const text = `${readings("f = force on(decay p, 310 cm2)")}\n${series}`;
  expect(
    analyzeText(text)
      .findings.map((one) => one.message)
      .join(),
  ).toContain("whole column of a series");
});

test("a result below absolute zero is said", () => {
  expect(rules(readings("p = 20 kPa(a) - 30 kPa"))).toEqual(["reading/implausible"]);
});

test("two testers that disagree the other way round disagree too", () => {
  const text = `${readings("a: 1.00 kPa ± 0.01 kPa\nb: 1.10 kPa ± 0.01 kPa\nen = en number(a, b)")}\n\`\`\`limits\nen <= 1\n\`\`\`\n`;
  expect(rules(text)).toEqual(["limit/exceeded"]);
});
