import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FieldProblem } from "../../server/src/note/front-matter.ts";
import { missingJobProblem, readFrontMatter } from "../../server/src/note/read-front-matter.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import type { YamlReader } from "../../server/src/note/yaml-tree.ts";
import { frontMatterText, mutated } from "./texts.ts";

const read = (text: string) => readFrontMatter(text, readYaml);
const note = (front: string) => `---\n${front}\n---\n\n# Prose\n`;

/** `«underlined text» message | fixed line` for each finding. */
function findings(text: string): string[] {
  return read(text).problems.map((problem) => {
    const under = text.slice(problem.range.from, problem.range.to);
    const fixes = problem.fixes.map((fix) => ` | ${fixedLine(text, fix)}`);
    return `«${under}» ${problem.message}${fixes.join("")}`;
  });
}

function fixed(text: string, fix: FieldProblem["fixes"][number]): string {
  return text.slice(0, fix.range.from) + fix.text + text.slice(fix.range.to);
}

function fixedLine(text: string, fix: FieldProblem["fixes"][number]): string {
  const start = text.lastIndexOf("\n", fix.range.from - 1) + 1;
  return fixed(text, fix).slice(start).split(/\r?\n/)[0] ?? "";
}

describe("front matter", { timeout: 60_000 }, () => {
  it("gives fields with their digits as written, and where they stand", () => {
    const text = note(
      "job: 007\nvehicle: { description: farm utility, year: 2024, odometer: 41 200 km }\n" +
        "reviewed by: tech 1\ncomeback of: 2031-0042\ndate: 2031-03-04\nx-bay: 4",
    );
    const front = read(text);
    expect(front.problems).toEqual([]);
    expect(front.fields).toEqual({
      job: "007",
      vehicle: { description: "farm utility", year: 2024, odometer: "41 200 km" },
      reviewedBy: "tech 1",
      comebackOf: "2031-0042",
      date: "2031-03-04",
    });
    const at = (path: string) => text.slice(front.at.get(path)?.from, front.at.get(path)?.to);
    expect(at("job")).toBe("007");
    expect(at("vehicle.odometer")).toBe("41 200 km");
    expect(text.slice(front.range.from, front.range.to).endsWith("x-bay: 4\n---")).toBe(true);
  });

  it("stands at the very start, behind a byte order mark, with either line end", () => {
    const front = read("\ufeff---\r\njob: 12\r\n---\r\ntext\r\n");
    expect(front.fields.job).toBe("12");
    expect(front.range).toEqual({ from: 1, to: 18 });
    expect(read("\n---\njob: 1\n---\n").present).toBe(false);
    expect(read("# Title\n").present).toBe(false);
    expect(read("").present).toBe(false);
    expect(read("---").present).toBe(false);
    expect(read("----\njob: 1\n---\n").present).toBe(false);
  });

  it("may end in three dots, and may be empty", () => {
    expect(read("---\njob: 1\n...\n").range).toEqual({ from: 0, to: 14 });
    expect(read("---\n---\ntext").range).toEqual({ from: 0, to: 7 });
    expect(read("---\n---\ntext").problems).toEqual([]);
  });

  it("is not taken for one where the dashes draw a line", () => {
    expect(read("---\nSome words below a line.\n\nMore words.\n").present).toBe(false);
  });

  it("never closed is one finding; its keys are read all the same", () => {
    const text = "---\njob: 3\nstatus: open\n\n```readings\nflow: 1 L/min\n```\n";
    expect(findings(text)).toEqual([
      "«---» The front matter opens with three dashes here and is never closed. | status: open",
    ]);
    const front = read(text);
    expect(front.fields).toEqual({ job: "3", status: "open" });
    expect(text.slice(front.range.to).startsWith("\n\n```readings")).toBe(true);
    const fix = front.problems[0]?.fixes[0];
    expect(fix && read(fixed(text, fix)).problems).toEqual([]);
  });

  it.each<[string, string, string[]]>([
    [
      "a key nobody reads",
      "job: 1\ncomplant: wet",
      ["«complant» `complant` is no key of a job note, so nothing reads it. | complaint: wet"],
    ],
    ["a key in capitals", "Job: 1", ["«Job» `Job` is no key of a job note, so nothing reads it. | job: 1"]],
    [
      "a vehicle's key at the top",
      "job: 1\nodometer: 41 200 km",
      ["«odometer» `odometer` is no key of a job note, so nothing reads it. It belongs inside `vehicle`."],
    ],
    [
      "a key that a vehicle does not have",
      "job: 1\nvehicle: { odometr: 5 km }",
      ["«odometr» `odometr` is no key of a vehicle, so nothing reads it. | vehicle: { odometer: 5 km }"],
    ],
    [
      "a vehicle in one text",
      "job: 1\nvehicle: farm utility",
      [
        "«farm utility» `vehicle` takes keys of its own, not a text. | vehicle: { description: farm utility }",
      ],
    ],
    ["a year", "job: 1\nvehicle: { year: 24 }", ["«24» The model year `24` is no year."]],
    [
      "a day that is none",
      "job: 1\ndate: 2031-02-30",
      ["«2031-02-30» 2031-02-30 is no day of the calendar."],
    ],
    ["a leap day", "job: 1\ndate: 2032-02-29", []],
    [
      "a day with either month",
      "job: 1\ndate: 3/4/2031",
      [
        "«3/4/2031» `3/4/2031` is not read as a day. It can be read as two different days. | date: 2031-04-03 | date: 2031-03-04",
      ],
    ],
    [
      "a day without noughts",
      "job: 1\ndate: 2031-3-4",
      ["«2031-3-4» `2031-3-4` is not read as a day. | date: 2031-03-04"],
    ],
    [
      "a state",
      "job: 1\nstatus: closed",
      ["«closed» The status is open or done, not `closed`. | status: done"],
    ],
    [
      "an outcome",
      "job: 1\nstatus: done\noutcome: NFF",
      [
        "«NFF» The outcome is repaired, replaced, no fault found, declined or diagnosis only, not `NFF`. | outcome: no fault found",
      ],
    ],
    [
      "done without outcome",
      "job: 1\nstatus: done",
      [
        "«done» The job is done, but nothing says how it ended. | status: done | status: done | status: done | status: done | status: done",
      ],
    ],
    [
      "done with an empty outcome",
      "job: 1\nstatus: done\noutcome:",
      [
        "«done» The job is done, but nothing says how it ended. | outcome: repaired | outcome: replaced | outcome: no fault found | outcome: declined | outcome: diagnosis only",
      ],
    ],
    ["no number", "job:", ["«job» `job:` has no number."]],
    ["empty keys of a form to fill in", "job: 1\ncause:\noutcome:\nvehicle: { year: 2024, vin: }", []],
    ["a list where one text belongs", "job: [1, 2]", ["«[1, 2]» `job` takes a text."]],
    ["complaints in a list", "job: 1\ncomplaint: [wet, dim]\ntags: [lamp]", []],
  ])("%s", (_what, front, expected) => {
    expect(findings(note(front))).toEqual(expected);
  });

  it.each<[string, string, string[]]>([
    [
      "a colon in a value",
      "job: 1\ncomplaint: noise: it's rattling # left\nby: x",
      [
        "«noise: it's rattling # left» This value has a colon and a blank in it, which starts another key. | complaint: 'noise: it''s rattling' # left",
      ],
    ],
    [
      "brackets at the start",
      "job: 1\nsubject: [left] lamp",
      ["«lamp» Something follows after the closing quote or bracket. | subject: '[left] lamp'"],
    ],
    [
      "emphasis at the start",
      "job: 1\ncause: *cracked* lens",
      [
        "«*cracked*» `*cracked*` has a special meaning in YAML, which is not used here. | cause: '*cracked* lens'",
      ],
    ],
    ["a key twice", "job: 1\njob: 2", ["«job» `job` is given twice."]],
    ["a tab", "job: 1\nvehicle:\n\tyear: 2024", ["«\t» A tab sets this line in; YAML allows only blanks."]],
    [
      "a quote never closed",
      'job: 1\ncause: "lens\nby: x',
      ['«"lens» A quote mark (") opens here and is never closed.'],
    ],
    [
      "plain text",
      "nothing but words",
      ["«nothing but words» This is text, with no key and colon before it."],
    ],
    ["a list", "- job\n- 1", ["«- job» This is a list, with no keys."]],
    ["no blank after the colon", "job:1\nby: x", ["«job:1» The colon needs a blank after it."]],
  ])("says in plain words: %s", (_what, front, expected) => {
    expect(findings(note(front))).toEqual(expected);
  });

  it("reads what stands before a mistake, and reports mistakes there", () => {
    const text = note("job: 5\nstatus: closed\ncause: a: b\ndate: tomorrow");
    expect(findings(text).map((f) => f.slice(0, 8))).toEqual(["«closed»", "«a: b» T"]);
    expect(read(text).fields.job).toBe("5");
  });

  it("keeps the good fields beside a bad one", () => {
    const front = read(note("job: 5\ndate: soon\nvehicle: { year: 24, vin: X }\nfoo: 1\nby: me"));
    expect(front.fields).toEqual({ job: "5", vehicle: { vin: "X" }, by: "me" });
  });

  it("is the same object for the same text, whatever follows it", () => {
    const text = note("job: 77");
    expect(read(text)).toBe(read(`${text}more`));
    expect(read(text)).not.toBe(read(`\ufeff${text}`));
  });

  it("mends what its fixes say they mend", () => {
    fc.assert(
      fc.property(mutated(frontMatterText), (front) => {
        const text = `---\njob: 1\n${front}\n---\n`;
        const before = read(text);
        for (const problem of before.problems) {
          for (const fix of problem.fixes) {
            const after = read(fixed(text, fix));
            const same = after.problems.some(
              (p) => p.range.from === problem.range.from && p.message === problem.message,
            );
            expect(same, JSON.stringify([text, fix])).toBe(false);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it("lives through anything, with ranges inside the text", () => {
    const anything = fc.oneof(frontMatterText, mutated(frontMatterText), fc.string({ unit: "binary" }));
    fc.assert(
      fc.property(anything, (front) => {
        const text = `---\n${front}`;
        for (const whole of [text, `${text}\n---\n`]) {
          for (const { range, fixes } of read(whole).problems) {
            for (const r of [range, ...fixes.map((f) => f.range)]) {
              expect(r.from).toBeGreaterThanOrEqual(0);
              expect(r.to).toBeGreaterThanOrEqual(r.from);
              expect(r.to).toBeLessThanOrEqual(whole.length);
            }
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it("says what a note without a job lacks", () => {
    const text = note("procedure: lamp-moisture");
    const problem = missingJobProblem(read(text));
    expect(text.slice(problem.range.from, problem.range.to)).toBe("---");
  });
});

describe("hostile front matter", () => {
  const never: YamlReader = () => {
    throw new Error("the library must not be asked");
  };

  it("of ten megabytes is not read, gives one finding, and the note behind it is found", () => {
    const text = note(`job: 9\n${"cause: x\n".repeat(1_200_000)}`);
    const front = readFrontMatter(text, never);
    expect(front.problems.map((p) => p.message)).toEqual([
      "This front matter is 10801 thousand characters long, too long to be read.",
    ]);
    expect(front.at.has("job")).toBe(true);
    expect(front.range.to).toBe(text.length - "\n\n# Prose\n".length);
    expect(readFrontMatter(`---\n${"job: 1\n".repeat(1_500_000)}`, never).problems.length).toBeGreaterThan(0);
  });

  it("of binary rubbish gives one finding", () => {
    expect(findings(note("job: 1\ncause: \u0000\u0001\u0002"))).toEqual([
      "«\u0000» A character here is not text, as if a picture or another kind of file had got in.",
    ]);
  });

  it("that multiplies itself is refused, not expanded", () => {
    const lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"];
    for (let i = 1; i < 12; i++) lines.push(`a${i}: &a${i} [${`*a${i - 1}, `.repeat(9)}x]`);
    const { problems } = readYaml(lines.join("\n"), 0);
    expect(problems.length).toBe(12);
    expect(problems[0]?.message).toBe("`&a0` has a special meaning in YAML, which is not used here.");
  });

  it.each(["[", "{a: ", "- ", "? "])("nested ten thousand deep with %j is a finding", (piece) => {
    const { problems } = readYaml(`a: ${piece.repeat(10_000)}`, 0);
    expect(problems.length).toBeGreaterThan(0);
    expect(readYaml(piece.repeat(1000), 0).problems.length).toBeGreaterThan(0);
  });
});
