import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Base } from "../../server/src/base/base.ts";
import { readCondition } from "../../server/src/base/condition.ts";
import { recordOfText } from "./records.ts";

const front = (job: string, more: string): string =>
  `---\njob: ${job}\nx-invented: true\n${more}\nstatus: open\n---\n`;

const LAMP = `${front("A", "procedure: lamp-moisture\nsubject: rear lamp\ncomplaint: droplets inside the lens\nby: tech 1\ndate: 2031-03-04\nvehicle: { year: 2024, odometer: 41 200 km }\ntags: [comeback, warranty]")}
The lens was wiped.

\`\`\`readings
leak size: 0.39 mm
test pressure: 0.8 psi
supply current: 9.1, 9.3, 9.2 A
smoke seen: yes
medium: smoke
\`\`\`

\`\`\`steps
08:40  assess: droplets
09:10  pressurize: smoke, 0.8 psi
09:25  locate [lower seam]: found
09:30  relieve pressure
09:40  dry: fan until 11:10
--:--  seal [lower seam]
\`\`\`
`;
const VAPOUR = `${front("B", "procedure: evap-leak\nsubject: tank\ncomplaint: smell of fuel\nby: tech 2\ndate: 2031-05-20\nvehicle: { year: 2019, hours: 3870 }")}
\`\`\`readings
test pressure: 12 inH2O
ambient pressure: 98.9 kPa(a)
\`\`\`

\`\`\`readings before
leak size: 1.2 mm
flow: 3 L/min
\`\`\`

\`\`\`readings after
leak size: 0.1 mm
flow: 0.2 L/min
\`\`\`
`;
const WRONG = `${front("C", "procedure: general\nsubject: bench\nby: tech 1")}
\`\`\`readings
test pressure: 0,9 psi
depth: 3 mm
flow = depth + 1 s
\`\`\`

\`\`\`steps
2031-06-01
10:00  measure
\`\`\`
`;
const base = new Base([
  recordOfText("a.md", LAMP),
  recordOfText("b.md", VAPOUR),
  recordOfText("c.md", WRONG),
]);

function found(text: string): string {
  const reading = readCondition(text, base);
  if (!reading.ok) throw new Error(`${reading.message} ${reading.advice}`);
  return base.notes
    .flatMap((note, i) => (reading.condition.meets(i) === undefined ? [] : [String(note.fields.job)]))
    .join("");
}

function refused(text: string): string {
  const reading = readCondition(text, base);
  return reading.ok ? "" : `${reading.message} ${reading.advice}`;
}

describe("a condition on notes", () => {
  it.each([
    ["leak size > 0.3 mm", "AB"],
    ["leak size > 0.01 in", "AB"],
    ["leak size > 0.03 in", "B"],
    ['leak size > 0.3 mm and procedure is "lamp-moisture"', "A"],
    ["test pressure >= 2.9 kPa", "AB"],
    ["test pressure < 3 kPa", "B"],
    ["ambient pressure > 90 kPa(a)", "B"],
    ["supply current <= 9.3 A", "A"],
    ["supply current <= 9.2 A", ""],
    ["leak size / 2 > 0.3 mm", "B"],
    ["smoke seen", "A"],
    ["not smoke seen", ""],
    ['medium is "Smoke"', "A"],
    ['by is "tech 1"', "AC"],
    ['by == "tech 1" and not has(leak size)', "C"],
    ['tags is "comeback"', "A"],
    ["vehicle year >= 2020", "A"],
    ["vehicle odometer > 40000 km", "A"],
    ["vehicle hours > 3000 h", "B"],
    ["errors > 0", "AC"],
    ["errors == 0", "B"],
  ])("%s", (text, jobs) => {
    expect(found(text)).toBe(jobs);
  });

  it("reads a labelled block's names as that block does, never mixing two blocks", () => {
    expect(found("leak size > 1 mm and flow > 2 L/min")).toBe("B");
    expect(found("leak size < 0.2 mm and flow > 2 L/min")).toBe("");
    expect(found("before leak size > 1 mm and after leak size < 0.2 mm")).toBe("B");
  });

  it("holds days against days, months and years", () => {
    expect(found('date >= "2031-03-04"')).toBe("ABC");
    expect(found('date > "2031-03-04"')).toBe("BC");
    expect(found('date > "2031-03"')).toBe("BC");
    expect(found('date <= "2031-05"')).toBe("AB");
    expect(found('date == "2031-06"')).toBe("C");
    expect(found('date != "2031"')).toBe("");
    expect(found('"2031-05-20" < date')).toBe("C");
  });

  it("asks about steps, findings and words", () => {
    expect(found('done("locate")')).toBe("A");
    expect(found('done("locate", "Lower Seam")')).toBe("A");
    expect(found('done("locate", "upper seam")')).toBe("");
    expect(found('done("seal")')).toBe("");
    expect(found('planned("seal")')).toBe("A");
    expect(found('outcome of("locate", "found")')).toBe("A");
    expect(found('duration("dry") == 90 min')).toBe("A");
    expect(found('duration("dry") > 1 h and duration("dry") + 1 h < 3 h')).toBe("A");
    expect(found('duration("locate") == 5 min')).toBe("A");
    expect(found('finding("unit/decimal-comma")')).toBe("C");
    expect(found('finding("unit")')).toBe("C");
    expect(found('finding("un")')).toBe("");
    expect(found('says("wiped lens")')).toBe("A");
    expect(found('says(complaint, "lens droplets")')).toBe("A");
    expect(found('says(complaint, "wiped")')).toBe("");
  });

  it("takes what a note does not say as neither true nor false", () => {
    expect(found("not leak size > 5 mm")).toBe("AB");
    expect(found('leak size > 5 mm or procedure is "general"')).toBe("C");
    expect(found('not (leak size > 5 mm and procedure is "general")')).toBe("AB");
    expect(found("flow > 0 L/min")).toBe("B");
  });

  it("counts what does not fit together instead of finding it", () => {
    const reading = readCondition("test pressure > 5 mm", base);
    expect(reading.ok && base.notes.map((_, i) => reading.condition.meets(i))).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(reading.ok && [...reading.condition.kept]).toEqual([
      ["psi cannot be compared with mm", 1],
      ["inH2O cannot be compared with mm", 1],
    ]);
  });

  it("says in plain words what it cannot read", () => {
    expect(refused("leek size > 1 mm")).toContain("Did you mean `leak size`?");
    expect(refused("leak size > 1 mmm")).toContain("`mmm` is no unit");
    expect(refused("leak size > ")).toContain("stops short");
    expect(refused("leak size > 0,3 mm")).not.toBe("");
    expect(refused("leak size > 1 mm droplets")).not.toBe("");
    expect(refused('date > "last week"')).toContain("a day, a month or a year");
    expect(refused('don("seal")')).toContain("Did you mean `done`");
    expect(refused("done(seal)")).toContain('done("seal")');
    expect(refused("says(complaint)")).toContain("says(");
  });

  it("never fails, whatever is asked", () => {
    const piece = fc.constantFrom(
      ...'leak size|>|<=|0.3 mm|and|or|not|(|)|is|"x"|done|,|date|"2031"|duration("dry")|-|*|1 psi|flow|yes|has|='.split(
        "|",
      ),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 9 }), (pieces) => {
        const reading = readCondition(pieces.join(" "), base);
        if (reading.ok)
          base.notes.forEach((_, i) => {
            reading.condition.meets(i);
          });
        else expect(reading.message).not.toBe("");
      }),
      { numRuns: 2000 },
    );
  });
});
