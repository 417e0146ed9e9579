import { describe, expect, it } from "vitest";
import { addTo, NOTHING } from "../../server/src/report/checked.ts";
import { jsonNote, jsonPieces } from "../../server/src/report/json.ts";
import { jsonResult } from "./json-result.ts";
import { at, finding, madeNote } from "./made-note.ts";
import { folderWith, runIn } from "./run-in.ts";

const NOTE =
  "---\njob: 2031-0042\nstatus: open\n---\n\n```readings\n🔧 x\npressure: 0,9 psi\nflow = a\n```\n";

describe("the machine-readable result", () => {
  it("counts lines and columns from 1, columns in UTF-16 units", () => {
    const { findings } = jsonNote(madeNote(NOTE, [finding(NOTE, "x"), finding(NOTE, "0,9")]));
    // The wrench is two UTF-16 units wide, as editors count.
    expect(findings[0]).toMatchObject({ line: 7, column: 4, endLine: 7, endColumn: 5 });
    expect(findings[1]).toMatchObject({ line: 8, column: 11, endLine: 8, endColumn: 14 });
  });

  it("counts the same with CRLF and lone CR as with LF", () => {
    for (const lineBreak of ["\r\n", "\r"]) {
      const note = NOTE.replaceAll("\n", lineBreak);
      const { findings } = jsonNote(madeNote(note, [finding(note, "0,9")]));
      expect(findings[0]).toMatchObject({ line: 8, column: 11, endLine: 8, endColumn: 14 });
    }
  });

  it("does not round values, and writes null for what is absent", () => {
    const place = {
      key: "",
      nameRange: at(NOTE, "flow"),
      lineRange: at(NOTE, "flow = a"),
      line: 8,
      hintAt: 0,
    };
    const { values } = jsonNote(
      madeNote(
        NOTE,
        [],
        [
          {
            ...place,
            name: "leak size",
            kind: "derived",
            shown: {
              kind: "quantity",
              value: 0.3912345678,
              unit: "mm",
              uncertainty: 0.0387,
              text: "0.39 mm ± 0.04 mm",
            },
          },
          {
            ...place,
            name: "ratio",
            kind: "derived",
            shown: { kind: "quantity", value: 2, unit: "", uncertainty: null, text: "2" },
          },
          { ...place, name: "medium", kind: "text", shown: { kind: "text", text: "smoke" } },
          { ...place, name: "flow", kind: "derived", shown: undefined },
        ],
      ),
    );
    expect(values).toEqual([
      { name: "leak size", kind: "derived", value: 0.3912345678, unit: "mm", uncertainty: 0.0387, line: 9 },
      { name: "ratio", kind: "derived", value: 2, unit: null, uncertainty: null, line: 9 },
      { name: "medium", kind: "text", value: "smoke", unit: null, uncertainty: null, line: 9 },
      { name: "flow", kind: "derived", value: null, unit: null, uncertainty: null, line: 9 },
    ]);
  });

  it("tells which findings have a fix, and keeps to the form of the design", () => {
    const fix = {
      title: "Write 0.9",
      edits: [{ range: at(NOTE, "0,9"), text: "0.9" }],
      kind: "choice",
    } as const;
    const checked = madeNote(NOTE, [
      finding(NOTE, "0,9", { fixes: [fix] }),
      finding(NOTE, "x", { severity: "info" }),
    ]);
    const shop = {
      path: "shop.yaml",
      text: "a",
      lines: { starts: [0], end: 1 },
      findings: [finding("a", "a")],
    };
    const totals = addTo(addTo(NOTHING, checked), shop);
    const text =
      jsonPieces.head +
      JSON.stringify(jsonNote(checked)) +
      jsonPieces.between +
      JSON.stringify(jsonNote(shop)) +
      jsonPieces.tail(totals);
    const result = jsonResult.parse(JSON.parse(text));
    expect(result.notes[0]?.findings.map(({ fixable }) => fixable)).toEqual([true, false]);
    expect(result.notes[0]).toMatchObject({ path: "lamps/rear.md", job: "2031-0042", status: "open" });
    expect(result.notes[1]).toMatchObject({ path: "shop.yaml", job: null, status: null, values: [] });
    // The shop file is no note, and what only informs is no warning.
    expect(result.totals).toEqual({ notes: 1, errors: 2, warnings: 0 });
  });

  it("lists a line that cannot be read with no value, whatever is wrong with it", async () => {
    const lines = [
      "comma: 0,9 psi",
      "grouped: 1,200 A",
      "typo: 0.9 pis",
      "nothing:",
      "sum =",
      "rest = comma * 2",
      "hose length 3 m",
    ];
    const note = `---\njob: 2031-0042\n---\n\n\`\`\`readings\n${lines.join("\n")}\n\`\`\`\n`;
    const { out } = await runIn(folderWith({ "a.md": note }), ["check", "--format", "json"]);
    const unknown = { value: null, unit: null, uncertainty: null };
    expect(jsonResult.parse(JSON.parse(out)).notes[0]?.values).toEqual([
      { name: "comma", kind: "measured", ...unknown, line: 6 },
      { name: "grouped", kind: "measured", ...unknown, line: 7 },
      { name: "typo", kind: "measured", ...unknown, line: 8 },
      { name: "nothing", kind: "measured", ...unknown, line: 9 },
      { name: "sum", kind: "derived", ...unknown, line: 10 },
      { name: "rest", kind: "derived", ...unknown, line: 11 },
      // Where the name of the last line ends nobody knows.
    ]);
  });

  it("is whole when there is nothing to tell", () => {
    const result = jsonResult.parse(JSON.parse(jsonPieces.head + jsonPieces.tail(NOTHING)));
    expect(result).toEqual({ version: 1, notes: [], totals: { notes: 0, errors: 0, warnings: 0 } });
  });
});
