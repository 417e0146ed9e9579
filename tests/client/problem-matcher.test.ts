import { describe, expect, it } from "vitest";
import manifest from "../../package.json";
import { folderWith, runIn } from "../cli/run-in.ts";

const [matcher] = manifest.contributes.problemMatchers;

/** What the editor's problem matcher takes from a report, as the editor does: line by line. */
function matched(report: string): Record<string, string>[] {
  const { pattern } = matcher ?? { pattern: undefined };
  if (!pattern) throw new Error("no problem matcher");
  const { regexp, ...groups } = pattern;
  return report.split("\n").flatMap((line) => {
    const found = new RegExp(regexp).exec(line);
    return found
      ? [Object.fromEntries(Object.entries(groups).map(([key, group]) => [key, found[group] ?? ""]))]
      : [];
  });
}

describe("the problem matcher of the extension's tasks", () => {
  it("takes every finding of a report with its place, severity and rule, and nothing else", async () => {
    const note = [
      "---",
      "job: 2031-0001",
      "procedure: general",
      "status: open",
      "---",
      "",
      "```readings",
      "supply current: 9,1 A",
      "room humidity: 140 %",
      "force [N] = supply current * 2",
      "```",
      "",
      "```steps",
      "09:10  dance: a while",
      "```",
      "",
    ].join("\n");
    const folder = folderWith({ "my notes/lamp 1.md": note });
    const { out } = await runIn(folder, ["check", "."]);
    const json = await runIn(folder, ["check", "--format", "json", "."]);
    const { notes } = JSON.parse(json.out) as { notes: { path: string; findings: Finding[] }[] };
    const expected = notes.flatMap(({ path, findings }) =>
      findings.map(({ rule, severity, line, column }) => [path, `${line}`, `${column}`, severity, rule]),
    );
    expect(expected.length).toBeGreaterThan(2);
    const found = matched(out).map(({ file, line, column, severity, code }) => [
      file,
      line,
      column,
      severity,
      code,
    ]);
    expect(found).toEqual(expected);
  });

  it("is given to the task by its name", () => {
    expect(matcher?.name).toBe("witness-mark");
    // What is open is checked as it is typed, so a task adds only what is closed.
    expect(matcher?.applyTo).toBe("closedDocuments");
  });
});

interface Finding {
  readonly rule: string;
  readonly severity: string;
  readonly line: number;
  readonly column: number;
}
