// Wherever a note says that a part went to a pressure, it is held to the part's limit (a technician's judgement, no source).
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const overLimit = (procedure: string, body: string) =>
  analyzeText(`---\njob: 1\nprocedure: ${procedure}\ndate: 2031-03-04\n---\n\n${body}\n`).findings.flatMap(
    ({ rule, message }) => (rule === "pressure/over-limit" ? [message] : []),
  );

const located = (remark: string) =>
  `\`\`\`steps\n09:00  pressurize: nitrogen, 0.02 psi\n09:16  locate: ${remark}\n\`\`\``;

describe("a pressure that was turned up while the leak was looked for", () => {
  it.each([
    "lamp-moisture",
    "module-enclosure-leak",
    "evap-leak",
    "intake-leak",
    "exhaust-leak",
    "crankcase-leak",
    "cabin-water-leak",
  ])("is held to the limit in %s", (procedure) => {
    expect(overLimit(procedure, located("found, turned up to 5 psi"))).toHaveLength(1);
    expect(overLimit(procedure, located("found, bubbles"))).toEqual([]);
  });
});

describe("a logged test pressure", () => {
  const log = (rows: string) => `\`\`\`series hold\nt [s], test pressure [psi]\n${rows}\n\`\`\``;

  it("is held to the limit by its highest row", () => {
    expect(overLimit("lamp-moisture", log("0, 0.5\n60, 5.0\n120, 0.5"))[0]).toContain("5 psi is above");
    expect(overLimit("lamp-moisture", log("0, 0.5\n60, 0.6\n120, 0.5"))).toEqual([]);
  });
});

describe("the lowest marking in a cooling system", () => {
  const held = (...readings: string[]) =>
    overLimit("cooling-pressure", ["```readings", ...readings, "```"].join("\n")).length;

  it.each<[says: string, readings: string[], findings: number]>([
    ["is the cap's where only that is given", ["cap marking: 15 psi", "test pressure: 18 psi"], 1],
    ["is the lower of two", ["lowest marking: 20 psi", "cap marking: 15 psi", "test pressure: 18 psi"], 1],
    ["is the least of a list", ["lowest marking: 20, 14 psi", "test pressure: 16 psi"], 1],
    ["is above ambient where it is absolute", ["lowest marking: 2.0 bar(a)", "test pressure: 1.5 bar"], 1],
    ["lets a lower test pressure pass", ["lowest marking: 2.0 bar(a)", "test pressure: 0.8 bar"], 0],
  ])("%s", (_, readings, findings) => {
    expect(held(...readings)).toBe(findings);
  });
});

describe("a test pressure in another spelling", () => {
  it.each(["retest pressure", "test-pressure", "testpressure", "Test Pressure"])(
    "%s is held to it",
    (name) => {
      for (const procedure of ["lamp-moisture", "evap-leak", "cabin-water-leak", "crankcase-leak"])
        expect(overLimit(procedure, `\`\`\`readings\n${name}: 5 psi\n\`\`\``)).toHaveLength(1);
    },
  );
});
