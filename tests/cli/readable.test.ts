import { describe, expect, it } from "vitest";
import { lookFor } from "../../server/src/cli/outside.ts";
import { writerFor } from "../../server/src/cli/report-form.ts";
import { NOTHING } from "../../server/src/report/checked.ts";
import { PLAIN, readableFindings, readableSummary } from "../../server/src/report/readable.ts";
import { valuesTable } from "../../server/src/report/values-table.ts";
import * as reporting from "../../server/src/reporting.ts";
import { at, finding, madeNote } from "./made-note.ts";

const NOTE = [
  "---",
  "job: 2031-0042",
  "status: open",
  "---",
  "",
  "```readings",
  "圧力\tpressure: 0,9 psi",
  "lens force [N] = pressure * area  ≈ 171 N",
  "area: 310 cm2",
  "```",
  "",
].join("\n");

describe("a finding to read", () => {
  it("says where, what, why and what to do, and marks the place", () => {
    expect(readableFindings(madeNote(NOTE, [finding(NOTE, "0,9")]), PLAIN)).toBe(`\
lamps/rear.md:7:14  error  unit/decimal-comma: 0,9 has a decimal comma.
     7  圧力    pressure: 0,9 psi
                          ╰─╯
    Why: A comma is read in two ways, a thousandfold apart.
    Do:  Write 0.9.

`);
  });

  it("shows related places with their lines", () => {
    const related = [{ range: at(NOTE, "area: 310 cm2"), message: "area is defined here." }];
    const text = readableFindings(
      madeNote(NOTE, [finding(NOTE, "* area", { related, severity: "warning", why: "" })]),
      PLAIN,
    );
    expect(text).toBe(`\
lamps/rear.md:8:27  warning  unit/decimal-comma: 0,9 has a decimal comma.
     8  lens force [N] = pressure * area  ≈ 171 N
                                  ╰────╯
    Do:  Write 0.9.
    See: area is defined here.
     9  area: 310 cm2
        ╰───────────╯

`);
  });

  it("says how far a place of several lines goes", () => {
    const range = { from: at(NOTE, "```readings").from, to: NOTE.length };
    const text = readableFindings(madeNote(NOTE, [finding(NOTE, "area", { range })]), PLAIN);
    expect(text).toContain("     6  ```readings\n        ╰─────────╯ to line 10\n");
  });

  it("keeps a note from steering the terminal through a message", () => {
    const text = readableFindings(madeNote(NOTE, [finding(NOTE, "0,9", { message: "a\u001B[2Jb" })]), PLAIN);
    expect(text).toContain("a␛[2Jb");
  });

  it("is as good with CRLF", () => {
    const note = NOTE.replaceAll("\n", "\r\n");
    expect(readableFindings(madeNote(note, [finding(note, "0,9")]), PLAIN)).toBe(
      readableFindings(madeNote(NOTE, [finding(NOTE, "0,9")]), PLAIN),
    );
  });

  it("can leave out all but errors", () => {
    const checked = madeNote(NOTE, [finding(NOTE, "0,9"), finding(NOTE, "area", { severity: "warning" })]);
    expect(readableFindings(checked, PLAIN, "error").match(/unit\/decimal-comma/g)).toHaveLength(1);
  });
});

describe("the last line", () => {
  it("counts what was found", () => {
    expect(readableSummary({ notes: 9, errors: 1, warnings: 3, remarks: 0, procedures: [] })).toBe(
      "Checked 9 job notes: 1 error, 3 warnings.\n",
    );
    expect(readableSummary({ notes: 10_000, errors: 0, warnings: 0, remarks: 2, procedures: [] })).toBe(
      "Checked 10\u00a0000 job notes: 2 for information.\n",
    );
    expect(readableSummary({ notes: 1, errors: 0, warnings: 0, remarks: 0, procedures: [] })).toBe(
      "Checked 1 job note: nothing to report.\n",
    );
    expect(readableSummary(NOTHING)).toBe("No job note was found.\n");
  });
});

describe("the table of values", () => {
  it("shows each derived value and whether its result is recorded", () => {
    const named = (name: string, line: number, text: string | undefined) => ({
      name,
      key: name,
      kind: "derived" as const,
      nameRange: at(NOTE, "lens force"),
      lineRange: at(NOTE, NOTE.split("\n")[line] ?? ""),
      line,
      hintAt: 0,
      shown:
        text === undefined
          ? undefined
          : { kind: "quantity" as const, value: 1, unit: "", uncertainty: null, text },
    });
    const values = [named("lens force", 7, "171 N ± 2 N"), named("圧力", 8, undefined)];
    expect(valuesTable(madeNote(NOTE, [], values), PLAIN)).toBe(`\
lamps/rear.md  job 2031-0042  open
    lens force   171 N ± 2 N            recorded
    圧力         cannot be worked out   not recorded

`);
    const stale = finding(NOTE, "≈ 171 N", { rule: "reading/stale-result", severity: "warning" });
    expect(valuesTable(madeNote(NOTE, [stale], values), PLAIN)).toContain("recorded, out of date\n");
    expect(valuesTable(madeNote(NOTE, [], []), PLAIN)).toBe("");
  });
});

describe("emphasis", () => {
  const bold = (environment: Record<string, string>, terminal?: { columns: number }): boolean =>
    lookFor({ environment, terminal }).emphasis;

  it("is for terminals, unless NO_COLOR or FORCE_COLOR say otherwise", () => {
    const terminal = { columns: 80 };
    expect(bold({}, terminal)).toBe(true);
    expect(bold({}, undefined)).toBe(false);
    expect(bold({ CI: "true" }, undefined)).toBe(false);
    expect(bold({ NO_COLOR: "1" }, terminal)).toBe(false);
    expect(bold({ NO_COLOR: "" }, terminal)).toBe(true);
    expect(bold({ FORCE_COLOR: "1" }, undefined)).toBe(true);
    expect(bold({ FORCE_COLOR: "0" }, terminal)).toBe(false);
    expect(bold({ NO_COLOR: "1", FORCE_COLOR: "1" }, terminal)).toBe(false);
    expect(bold({ TERM: "dumb" }, terminal)).toBe(false);
  });

  it("uses no colours at all, so that none can be taken for a verdict", () => {
    const form = { format: "readable", quiet: false, values: true, emphasis: true, width: 80 } as const;
    const write = writerFor(form, { reporting: () => reporting });
    const controlSequence = String.fromCharCode(27);
    const written = write(madeNote(NOTE, [finding(NOTE, "0,9")])) ?? "";
    const codes = written.split(controlSequence).slice(1);
    // SGR 1, 4, 22 and 24 of ECMA-48: bold, underlined, and the end of each.
    expect(new Set(codes.map((code) => code.slice(0, code.indexOf("m"))))).toEqual(
      new Set(["[1", "[22", "[4", "[24"]),
    );
  });

  it("keeps to the terminal's width, within reason", () => {
    expect(lookFor({ environment: {}, terminal: { columns: 70 } }).width).toBe(70);
    expect(lookFor({ environment: {}, terminal: { columns: 4 } }).width).toBe(40);
    expect(lookFor({ environment: {}, terminal: { columns: 400 } }).width).toBe(120);
    expect(lookFor({ environment: {}, terminal: undefined }).width).toBe(100);
  });
});
