// Pressure left on over a night hurts whoever comes first (technician's judgement, no source). Expectations by hand.
import { expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const found = (steps: string) =>
  analyzeText(
    `---\njob: example\nprocedure: boost-leak\ndate: 2031-03-04\n---\n\n\`\`\`readings\nboost limit: 1.2 bar\ntest pressure: 1.0 bar\n\`\`\`\n\n\`\`\`steps\n2031-03-04\n09:40  vent crankcase\n09:50  block inlet\n10:20  pressurize: air, 1 bar\n${steps}\`\`\`\n`,
  )
    .findings.filter((finding) => finding.rule === "sequence/left-behind")
    .map(({ severity, message }) => `${severity}: ${message}`);

test("pressure that is still on is an error at the step that put it on", () => {
  const [one, ...more] = found("2031-03-05\n08:00  locate [hose]: found\n");
  expect(one).toMatch(/^error: `pressurize` at 10:20.* over night/);
  expect(more).toEqual([]);
});

test("it stays a warning once it was let off", () => {
  expect(found("2031-03-05\n08:00  locate [hose]: found\n08:10  relieve pressure\n")[0]).toMatch(
    /^warning: /,
  );
});

test("nothing is said when it was off, or the job went on the same day", () => {
  expect(found("11:00  relieve pressure\n2031-03-05\n08:00  photo: gauge at zero\n")).toEqual([]);
  expect(found("11:00  locate [hose]: found\n")).toEqual([]);
});
