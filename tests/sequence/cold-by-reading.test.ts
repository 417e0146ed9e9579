// A hot cooling system scalds whoever opens it. Where nothing shows that it is cold and a reading says that it is
// hot, the note's word for "cold" does not count. 40 degC: a hand stays on the hose (technician's judgement, no source).
import { describe, expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";
import { analysed, findingsOf, type Job } from "./job.ts";

const job = (temperature: string, remark: string): Job => ({
  procedure: "cooling-pressure",
  status: "open",
  readings: [`coolant temperature: ${temperature} at 08:55`],
  steps: ["2031-03-04", "08:50  stop engine", `09:00  confirm cold: ${remark}`, "09:05  open cap"],
});
const opened = (temperature: string, remark: string) =>
  findingsOf(job(temperature, remark)).filter((line) => line.endsWith("open cap"));

describe("a cooling system opened", () => {
  test("is not cold for the asking while a reading says that it is hot", () => {
    expect(opened("92 degC", "engine off")).toEqual(["error sequence/needs: open cap"]);
  });

  test("is cold by a reading below the bound, and by what was felt later", () => {
    expect(opened("36 degC", "engine off")).toEqual([]);
    expect(opened("92 degC", "hand on hose")).toEqual([]);
  });
});

test("a reading that is given and does not do is named with its value", () => {
  const found = analysed({
    procedure: "evap-leak",
    status: "open",
    readings: ["fuel level: 95 %"],
    steps: ["2031-03-04", "09:05  make safe: vents open, no sparks"],
  }).map(({ message }) => message);
  expect(found.filter((message) => message.includes("fuel level"))).toEqual([
    "`make safe` at 09:05 needs a fuel level between 15 and 85 %, and `fuel level` is 95 %.",
  ]);
});

describe("a slip in a step's name", () => {
  const steps = (line: string) =>
    analyzeText(
      `---\njob: 1\nprocedure: lamp-moisture\n---\n\n\`\`\`steps\n2031-03-04\n${line}\n\`\`\`\n`,
    ).findings.filter(({ rule }) => rule === "note/unknown-step");

  test("lets no pressure pass every limit in silence", () => {
    const [finding] = steps("09:10  presurize: 90 psi");
    expect(finding?.severity).toBe("error");
    expect(finding?.message).toMatch(/so the pressure in it is held to no limit\.$/);
  });

  test("is a warning where no pressure is named", () => {
    expect(steps("08:55  blokc vents: 2 of 2").map(({ severity }) => severity)).toEqual(["warning"]);
  });
});
