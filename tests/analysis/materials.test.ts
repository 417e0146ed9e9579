// Functions about sealants take a material of the shop file by name. The expected numbers follow by plain
// arithmetic from the data sheet's own point (depth² in step with time; law from memory, no citable source).
import { describe, expect, test } from "vitest";
import { analyzeText, readings } from "../support/analyze-text.ts";

const shop = `materials:
  Flowable Silicone:
    skin: 20 min
    cure: 3 mm in 24 h at 23 degC and 50 %
    tube: 80 mL
  plain putty:
    description: no figures
`;
const shown = (line: string) => {
  const { values, findings } = analyzeText(readings(line), { shop });
  return { text: values[0]?.shown?.text, findings: findings.map((f) => f.message) };
};

describe("a material of the shop file", () => {
  test("gives the depth and time of its data sheet", () => {
    // (6/3)² · 24 h = 96 h
    const { text, findings } = shown('cure = cure time(6 mm, material: "flowable silicone")');
    expect(findings).toEqual([]);
    expect(text).toBe("96 h");
  });

  test("may be written without quotes, in any case", () => {
    expect(shown("skin = skin time(material: flowable silicone)").text).toBe("20 min");
    expect(shown("tubes needed = tubes(160 mL, material: Flowable Silicone)").text).toBe("2");
  });

  test("gives way to what the formula itself says", () => {
    // (6/2)² · 24 h = 216 h
    expect(shown('cure = cure time(6 mm, sheet depth: 2 mm, material: "flowable silicone")').text).toBe(
      "216 h",
    );
  });

  test("that is not there is said, with those that are", () => {
    const analysis = analyzeText(readings('cure = cure time(6 mm, material: "bath sealant")'), { shop });
    expect(analysis.findings).toHaveLength(1);
    expect(analysis.findings[0]?.advice).toContain('"Flowable Silicone", "plain putty"');
  });

  test("whose sheet lacks a needed figure is said", () => {
    expect(shown('skin = skin time(material: "plain putty")').findings).toEqual([
      "The shop file does not say the sheet time of `plain putty`.",
    ]);
  });
});
