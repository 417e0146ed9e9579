// Limits of the shop file: in place of a procedure's own, and on readings that no procedure limits.
import { describe, expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

function ids(lines: string, shop: string, { head = "", after = "" } = {}): readonly string[] {
  const text = `---\njob: test\n${head}---\n\n\`\`\`readings\n${lines}\n\`\`\`\n${after}`;
  return analyzeText(text, { shop })
    .findings.filter((one) => /^(?:limit|pressure\/over|moisture)/.test(one.rule))
    .map((one) => `${one.severity} ${one.rule}`);
}
const limits = (text: string) => `limits:\n  - ${text}\n`;

describe("on a reading that no procedure limits", () => {
  const shop = limits("{ reading: supply current, warn above: 10 A, error above: 15 A, source: our bench }");

  test("warns and stops; the figures themselves still pass, and every reading of a list counts", () => {
    expect(ids("supply current: 10 A", shop)).toEqual([]);
    expect(ids("supply current: 10.1 A", shop)).toEqual(["warning limit/exceeded"]);
    expect(ids("supply current: 9.0, 15.2, 9.1 A", shop)).toEqual(["error limit/exceeded"]);
    expect(ids("peak supply current: 16 A", shop)).toEqual(["error limit/exceeded"]);
    expect(ids("lamp current: 16 A", shop)).toEqual([]);
  });

  test("counts for its own procedure alone when it names one", () => {
    const own = limits("{ procedure: key-off-draw, reading: supply current, error above: 5 A }");
    expect(ids("supply current: 6 A", own)).toEqual([]);
    expect(ids("supply current: 6 A", own, { head: "procedure: key-off-draw\n" })).toEqual([
      "error limit/exceeded",
    ]);
  });

  test("gives way to the note's own limit", () => {
    const after = "\n```limits\nsupply current <= 20 A   source: fuse of the outlet used\n```\n";
    expect(ids("supply current: 16 A", shop, { after })).toEqual([]);
  });
});

describe("in place of a procedure's own", () => {
  const head = "procedure: lamp-moisture\n";
  const dry = (temperature: string, shop: string) =>
    ids(`drying temperature: ${temperature}`, shop, { head });

  test("what the shop leaves out stays as it was", () => {
    const warn = limits("{ reading: drying temperature, warn above: 45 degC }");
    expect(dry("50 degC", warn)).toEqual(["warning moisture/too-hot"]);
    expect(dry("85 degC", warn)).toEqual(["error moisture/too-hot"]);
    const error = limits("{ reading: drying temperature, error above: 70 degC }");
    expect(dry("65 degC", error)).toEqual(["warning moisture/too-hot"]);
    expect(dry("75 degC", error)).toEqual(["error moisture/too-hot"]);
    const high = limits("{ reading: drying temperature, warn above: 90 degC, error above: 95 degC }");
    expect(dry("85 degC", high)).toEqual([]);
  });

  test("nobody raises the limit on fuel vapour, but a lower one counts", () => {
    const evap = { head: "procedure: evap-leak\n" };
    const over = (pressure: string, shop: string) =>
      ids(`medium: nitrogen\ntest pressure: ${pressure}`, shop, evap).filter((id) =>
        id.includes("pressure/over"),
      );
    const high = limits("{ reading: test pressure, warn above: 18 inH2O, error above: 20 inH2O }");
    expect(over("16 inH2O", high)).toEqual(["error pressure/over-limit"]);
    const low = limits("{ reading: test pressure, error above: 12 inH2O }");
    expect(over("13 inH2O", low)).toEqual(["error pressure/over-limit"]);
    expect(over("11 inH2O", low)).toEqual([]);
  });
});
