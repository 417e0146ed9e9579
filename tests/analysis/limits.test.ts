// Limits decided with the uncertainty in mind. Source of the rule: ISO 14253-1 and JCGM 106 (a value counts as
// inside only where its expanded uncertainty still lies inside); the cautious reading of values beyond a limit is
// the project's own format, grammar/FORMAT.md.
import { describe, expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const note = (lines: string, limits: string): string =>
  `---\njob: test\n---\n\n\`\`\`readings\n${lines}\n\`\`\`\n\n\`\`\`limits\n${limits}\n\`\`\`\n`;

const verdicts = (lines: string, limits: string): string[] =>
  analyzeText(note(lines, limits)).findings.map((finding) => `${finding.severity} ${finding.rule}`);

const EXCEEDED = "error limit/exceeded";
const UNDECIDED = "warning limit/exceeded";
const NOT_PROVEN = "warning limit/not-proven";

describe("a reading of 0.80 psi ± 0.10 psi, so U = 0.115 psi", () => {
  const reading = "p: 0.80 psi ± 0.10 psi";
  test.each([
    ["p <= 1 psi", []],
    ["p <= 0.92 psi", []],
    ["p <= 0.91 psi", [NOT_PROVEN]],
    ["p <= 0.80 psi", [NOT_PROVEN]],
    ["p < 0.80 psi", [EXCEEDED]],
    ["p <= 0.79 psi", [EXCEEDED]],
    ["p >= 0.6 psi", []],
    ["p >= 0.7 psi", [NOT_PROVEN]],
    ["p > 0.81 psi", [EXCEEDED]],
    ["p <= 0.79 psi (acceptance)", [UNDECIDED]],
    ["p <= 0.69 psi (acceptance)", [UNDECIDED]],
    ["p <= 0.68 psi (acceptance)", [EXCEEDED]],
    ["p <= 0.91 psi (acceptance)", [NOT_PROVEN]],
    ["1 psi >= p", []],
    ["0.79 psi > p", [EXCEEDED]],
    ["p <= 7 kPa", []],
    ["p <= 6 kPa", [NOT_PROVEN]],
    ["p > 0.5 psi and p < 0.7 psi", [EXCEEDED]],
    ["p > 0.5 psi and p < 0.9 psi", [NOT_PROVEN]],
    ["p < 0.5 psi or p < 2 psi", []],
    ["p < 0.5 psi or p < 0.7 psi", [EXCEEDED]],
  ] satisfies [string, string[]][])("%s", (limit, expected) => {
    expect(verdicts(reading, limit)).toEqual(expected);
  });
});

describe("other limits", () => {
  test("two sides with one cause: only what differs is uncertain", () => {
    expect(verdicts("a: 5.0 V ± 0.5 V\nb = a + 0.1 V", "a < b")).toEqual([]);
  });

  test("a list is met by every element", () => {
    expect(verdicts("i: 9.1, 9.3, 9.2 A ± 0.01 A", "i <= 15 A")).toEqual([]);
    expect(verdicts("i: 9.1, 15.3, 9.2 A ± 0.01 A", "i <= 15 A")).toEqual([EXCEEDED]);
    expect(verdicts("i: 9.1, 15.3, 9.2 A ± 0.01 A", "i >= 9.1 A")).toEqual([NOT_PROVEN]);
  });

  test("words and truths", () => {
    const lines = "medium: smoke\nleaks: yes";
    expect(verdicts(lines, 'medium is "smoke"')).toEqual([]);
    expect(verdicts(lines, 'medium is "Smoke"')).toEqual([]);
    expect(verdicts(lines, 'medium == "air"')).toEqual([EXCEEDED]);
    expect(verdicts(lines, 'medium != "air"')).toEqual([]);
    expect(verdicts(lines, "leaks")).toEqual([]);
    expect(verdicts(lines, "not leaks")).toEqual([EXCEEDED]);
    expect(verdicts(lines, "leaks == no")).toEqual([EXCEEDED]);
  });

  test("what unit conversion leaves in the last places is no excess", () => {
    expect(verdicts("l = 0.1 m + 0.2 m", "l <= 30 cm")).toEqual([]);
    expect(verdicts("l = 3 * 0.1 in", "l <= 0.3 in")).toEqual([]);
    expect(verdicts("l = 3 * 0.1 in", "l < 0.3 in")).toEqual([EXCEEDED]);
  });

  test("of an unlike kind, or about a name that nothing defines, are one finding and no verdict", () => {
    expect(verdicts("p: 5 psi", "p <= 3 A")).toEqual(["error unit/mismatch"]);
    expect(verdicts("p: 5 psi", "q <= 3 psi")).toEqual(["error reading/undefined"]);
    expect(verdicts("p: 5 psi", "p <= 300 kPa(a)")).toEqual(["error unit/scale-point"]);
  });
});

describe("accepting a finding", () => {
  const findings = (text: string) => {
    const analysis = analyzeText(text);
    return {
      open: analysis.findings.map((finding) => finding.rule),
      accepted: analysis.accepted.map(({ finding, reason }) => `${finding.rule}: ${reason}`),
    };
  };

  test("on its line, with the reason", () => {
    const text = note("p: 2 psi", "p <= 1 psi  # accept limit/exceeded: as the customer brought it");
    expect(findings(text)).toEqual({ open: [], accepted: ["limit/exceeded: as the customer brought it"] });
  });

  test("before a block, for every finding of the rule in it", () => {
    const text = note("p: 2 psi\nq: 3 psi", "p <= 1 psi\nq <= 1 psi").replace(
      "```limits",
      "<!-- accept limit/exceeded: bench trial -->\n\n```limits",
    );
    expect(findings(text).open).toEqual([]);
    expect(findings(text).accepted).toHaveLength(2);
  });

  test("without a reason accepts nothing, and says so", () => {
    const text = note("p: 2 psi", "p <= 1 psi  # accept limit/exceeded:");
    expect(findings(text).open).toEqual(["limit/exceeded", "accept/no-reason"]);
  });

  test("that matches nothing is itself a finding", () => {
    expect(findings(note("p: 0.1 psi", "p <= 1 psi  # accept limit/exceeded: why")).open).toEqual([
      "accept/unused",
    ]);
    expect(findings(note("p: 2 psi", "p <= 1 psi  # accept limit/not-proven: why")).open).toEqual([
      "limit/exceeded",
      "accept/unused",
    ]);
  });

  test.each<[written: string, offered: readonly string[]]>([
    ["limit/exceded", ["limit/exceeded"]],
    // With or without a reason there is one finding.
    ["limits/exceeded:", ["limit/exceeded"]],
    ["reading/not-proven: bench trial", ["limit/not-proven"]],
    ["limit/Exceeded: bench trial", []],
    ["limit exceeded: bench trial", ["limit/exceeded"]],
    ["delivery note: signed", []],
    ["limit/foo: bench trial", []],
  ])("of a rule that there is not, `%s`, offers the nearest", (written, offered) => {
    const text = note("p: 2 psi", `p <= 1 psi  # accept ${written}`);
    const unused = analyzeText(text).findings.filter(({ rule }) => rule === "accept/unused");
    const titles = unused.flatMap(({ fixes }) => fixes.map(({ title }) => title));
    expect(titles.filter((title) => title.startsWith("Write"))).toEqual(offered.map((id) => `Write ${id}`));
    const edit = unused[0]?.fixes[0]?.edits[0];
    if (offered.length === 0 || !edit) return;
    const mended = text.slice(0, edit.range.from) + edit.text + text.slice(edit.range.to);
    expect(mended).toContain(`# accept ${offered[0]}`);
    expect(unused).toHaveLength(1);
    expect(findings(text).open).not.toContain("accept/no-reason");
  });

  test("in capitals is one all the same", () => {
    const text = note("p: 2 psi", "p <= 1 psi  # Accept limit/exceeded: bench trial");
    expect(findings(text)).toEqual({ open: [], accepted: ["limit/exceeded: bench trial"] });
  });

  test("covers its own line or block only", () => {
    const text = note("p: 2 psi\nq: 3 psi", "p <= 1 psi  # accept limit/exceeded: why\nq <= 1 psi");
    expect(findings(text).open).toEqual(["limit/exceeded"]);
  });

  test("is no accept where prose stands between it and the block", () => {
    const text = note("p: 2 psi", "p <= 1 psi").replace(
      "```limits",
      "<!-- accept limit/exceeded: why -->\n\nWords.\n\n```limits",
    );
    expect(findings(text).open.sort()).toEqual(["accept/unused", "limit/exceeded"]);
  });
});
