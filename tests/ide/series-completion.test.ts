import { describe, expect, it } from "vitest";
import type { Completion, LogFiles } from "../../server/src/ide/completion/place.ts";
import { SERIES_OPTIONS } from "../../server/src/ide/completion/series-options.ts";
import { complete } from "../../server/src/ide/completion.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { logOptions } from "../../server/src/note/series-log.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { blockAt, FRONT_MATTER, noteAt, shop } from "./note-at.ts";

const asked: unknown[] = [];
const logs: LogFiles = {
  beside: () => ["decay.csv", "more/bench.log"],
  heads: (log) => {
    asked.push(log);
    return ["Time", "Pressure (kPa)", "Pressure 2, outer", "", "Temp/degC"];
  },
};
const offers = (lines: string, files?: LogFiles): Completion[] => {
  const { analysis, offset } = blockAt("series decay", lines);
  return complete(analysis, shop, offset, files);
};
const labels = (lines: string, files?: LogFiles): string[] => offers(lines, files).map(({ label }) => label);

/** The block's lines after a completion was taken. */
function taken(lines: string, label: string, files?: LogFiles): string {
  const { text } = blockAt("series decay", lines);
  const found = offers(lines, files).find((one) => one.label === label);
  if (!found) throw new Error(`${label} is not offered, only ${labels(lines, files).join(" | ")}`);
  const { from, to } = found.replaces;
  return (text.slice(0, from) + found.text + text.slice(to)).split("```series decay\n")[1] ?? "";
}

const OPTIONS = ["from:", "skip:", "separator:", "decimal:", "columns:"];

describe("the options of a series", () => {
  it("are offered before its header, and those that are there are not offered again", () => {
    expect(labels("$0")).toEqual(["t [s]", ...OPTIONS]);
    expect(labels("from: a.csv\nskip: 3\n$0")).toEqual(OPTIONS.filter((o) => o !== "from:" && o !== "skip:"));
    expect(labels("from: a.csv\nse$0\nt [s]")).toEqual(OPTIONS.filter((option) => option !== "from:"));
    expect(taken("fr$0", "from:")).toMatch(/^from: \n/);
  });

  it("are not offered among the rows", () => {
    expect(labels("t [s], p [Pa]\n0, 1\n$0")).toEqual([]);
    expect(labels("t [s], p [Pa]\n0, 1$0")).toEqual([]);
  });

  it("offer the words that they take", () => {
    expect(labels("from: a.csv\nseparator: $0")).toEqual(["comma", "semicolon", "tab"]);
    expect(labels("from: a.csv\ndecimal: $0")).toEqual(["point", "comma"]);
    expect(labels("from: a.csv\nskip: $0")).toEqual([]);
  });

  it("name the logs beside the note, and none where there is no disk", () => {
    expect(labels("from: $0", logs)).toEqual(["decay.csv", "more/bench.log"]);
    expect(taken("from: dec$0", "decay.csv", logs)).toMatch(/^from: decay\.csv\n/);
    expect(labels("from: $0")).toEqual([]);
  });

  it("take every word that is offered, and every example, without a finding", () => {
    for (const { name, words, example } of SERIES_OPTIONS) {
      const lines = words.length > 0 ? words.map(([word]) => `${name}: ${word}`) : [example];
      for (const line of lines) {
        const from = name === "from" ? "" : "from: a.csv\n";
        const text = `${FRONT_MATTER}\`\`\`series a\n${from}${line}\nt [s], p [Pa]\n\`\`\`\n`;
        const block = readNote(text, readYaml).blocks[0];
        const options = block?.kind === "series" ? logOptions(block) : undefined;
        expect([line, options?.problems, options?.request !== undefined]).toEqual([line, [], true]);
      }
    }
  });
});

describe("the columns of a log", () => {
  it("are offered by their headings, by number where there is none, and in quotes where they hold a comma", () => {
    const log = "from: a.csv\nseparator: semicolon\nskip: 2\n";
    asked.length = 0;
    expect(labels(`${log}columns: $0`, logs)).toEqual([
      "Time",
      "Pressure (kPa)",
      "Pressure 2, outer",
      "4",
      "Temp/degC",
    ]);
    expect(asked).toEqual([{ path: "a.csv", separator: ";", skip: 2 }]);
    expect(labels(`${log}columns: time, 2, $0`, logs)).toEqual(["Pressure 2, outer", "4", "Temp/degC"]);
    expect(taken(`${log}columns: Time, pr$0`, "Pressure 2, outer", logs)).toContain(
      'columns: Time, "Pressure 2, outer"\n',
    );
    expect(labels("columns: $0", logs)).toEqual([]);
  });

  it("are offered by number where the file's first line holds numbers", () => {
    const numbers: LogFiles = { beside: () => [], heads: () => ["0", "1,5", "-2.0e3"] };
    expect(labels("from: a.csv\ncolumns: $0", numbers)).toEqual(["1", "2", "3"]);
    expect(labels("from: a.csv\n$0", numbers)).toEqual(OPTIONS.slice(1));
  });

  it("are offered for the header with their units, all at once and one by one", () => {
    const all = "Time, Pressure [kPa], Pressure 2 outer, Temp [degC]";
    expect(labels("from: a.csv\n$0", logs)).toEqual([all, "Time", ...OPTIONS.slice(1)]);
    expect(labels("from: a.csv\nTime [s], $0", logs)).toEqual(["Pressure [kPa]"]);
    expect(labels("from: a.csv\ncolumns: Temp/degC, 1\n$0", logs).slice(0, 2)).toEqual([
      "Temp [degC], Time",
      "Temp [degC]",
    ]);
    // The header as it was offered is read without a finding.
    const { analysis } = blockAt("series decay", `from: a.csv\n${all}$0`);
    expect(analysis.findings.filter(({ rule }) => rule === "note/syntax")).toEqual([]);
  });
});

describe("the columns of a series without a log", () => {
  it("are offered as the note's other series have them, those of the line left out", () => {
    const { analysis, offset } = noteAt(
      `${FRONT_MATTER}\`\`\`series before\nt [min], p [kPa], T [degC]\n0, 1, 2\n\`\`\`\n\n\`\`\`series after\nt [min], $0\n\`\`\`\n`,
    );
    expect(complete(analysis, shop, offset).map(({ label }) => label)).toEqual(["p [kPa]", "T [degC]"]);
  });

  it("offer units in the bracket of the column at the cursor", () => {
    expect(labels("t [s], p [in$0")).toContain("inH2O");
    expect(labels("t [s], p $0")).toEqual([]);
  });
});
