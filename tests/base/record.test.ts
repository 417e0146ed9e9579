import { describe, expect, it } from "vitest";
import { FIELDS } from "../../server/src/base/fields.ts";
import { parseRecord } from "../../server/src/base/parse-record.ts";
import { FRONT_MATTER_KEYS } from "../../server/src/note/front-matter-schema.ts";
import { recordOfText } from "./records.ts";

const NOTE = `---
job: 2031-0001
x-invented: true
procedure: general
subject: bench supply
reviewed by: tech 2
parts: [fuse, lamp]
vehicle: { year: 2020, odometer: 900 km }
status: open
---

Some words, some words.

\`\`\`readings first look
supply voltage: 12.6 V ± 0.1 V via V1
draw: 4.2, 4.4 A
power [W] = supply voltage * draw
lost = nothing here
state: worn
dry: yes
\`\`\`

\`\`\`steps
2031-03-04
23:50  measure: pass, 12 V until 00:10
--:--  function check
\`\`\`
`;

describe("the record of a note", () => {
  const record = recordOfText("a/b.md", NOTE);

  it("keeps the front matter under the names that a condition uses", () => {
    expect(record.fields).toMatchObject({
      job: "2031-0001",
      "reviewed by": "tech 2",
      parts: ["fuse", "lamp"],
      "vehicle year": "2020",
      "vehicle odometer": "900 km",
    });
    for (const key of FRONT_MATTER_KEYS) {
      if (key !== "vehicle") expect(FIELDS).toContain(key);
    }
  });

  it("keeps values with unit, uncertainty, instrument, label and repeated readings", () => {
    const of = (name: string) => record.values.find((value) => value.name === name);
    expect(of("supply voltage")).toEqual({
      name: "supply voltage",
      label: "first look",
      kind: "measured",
      instrument: "V1",
      line: 15,
      value: 12.6,
      unit: "V",
      // 0.1 V taken as the half-width of a rectangle (JCGM 100:2008, 4.3.7), times k = 2.
      uncertainty: Number(((2 * 0.1) / Math.sqrt(3)).toPrecision(4)),
    });
    expect(of("draw")).toMatchObject({ value: 4.3, readings: [4.2, 4.4] });
    expect(of("power")).toMatchObject({ kind: "derived", value: 54.18, unit: "W" });
    expect(of("lost")).not.toHaveProperty("value");
    expect(of("state")).toMatchObject({ kind: "text", value: "worn" });
    expect(of("dry")).toMatchObject({ value: true });
  });

  it("keeps steps with their day and how long they took, past midnight too", () => {
    expect(record.day).toBe("2031-03-04");
    expect(record.steps).toMatchObject([
      { step: "measure", day: "2031-03-04", at: 1430, minutes: 20, outcome: "pass" },
      { step: "function check" },
    ]);
    expect(record.steps[1]).not.toHaveProperty("at");
  });

  it("keeps each word of the prose once", () => {
    expect(record.words.split(" ").filter((word) => word === "words")).toHaveLength(1);
    expect(record.words).not.toContain("voltage");
  });

  it("comes back from JSON as it was, under the path it has now", () => {
    expect(parseRecord(JSON.stringify({ ...record, path: "" }), "a/b.md")).toEqual(record);
  });
});
