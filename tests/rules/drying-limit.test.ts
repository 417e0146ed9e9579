import { expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const note = (limit: string) => `---
job: example
procedure: lamp-moisture
---

\`\`\`limits
${limit}   source: service information for this lamp
\`\`\`

\`\`\`steps
2031-03-04
09:00  isolate power: key off
09:10  drain: two spoons of water
09:40  dry: warm air 58 degC until 11:10
\`\`\`
`;
const rules = (limit: string) => analyzeText(note(limit)).findings.map((finding) => finding.rule);

test("a limit on what only the steps state is held against the steps", () => {
  expect(rules("drying temperature <= 59 degC")).not.toContain("reading/undefined");
  expect(rules("drying temperature <= 55 degC")).toContain("moisture/too-hot");
});

test("a limit on a name that neither readings nor steps have is still said", () => {
  expect(rules("drying warmth <= 55 degC")).toContain("reading/undefined");
});
