import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import * as z from "zod";
import type { Finding } from "../../server/src/analysis/analysis.ts";
import { rules } from "../../server/src/rules/registry.ts";
import { EXPECTED, lineOf, readSampleShop, readSamples, type Sample, sampleNames } from "./read-samples.ts";

/**
 * The findings of the samples, written by hand from the design and not from what the checker says:
 * `now` for the rules of the notes, units, readings and limits, `later` for those of instruments, moisture,
 * pressure and sequence. A rule's expectations count as soon as the rule is in the registry; then the
 * samples must give exactly these findings, none more and none less. What is only information, such as
 * the steps that an open job still has before it, is left out.
 */
const finding = z.strictObject({
  rule: z.string(),
  line: z.number(),
  severity: z.enum(["error", "warning"]),
  /** Something that the message, the advice or a fix must mention. */
  says: z.coerce.string(),
});
const expectation = z.strictObject({
  now: z.array(finding),
  later: z.array(finding),
  accepted: z.optional(z.array(finding)),
});
type Expected = z.infer<typeof finding>;

const known: ReadonlySet<string> = new Set(rules.map((rule) => rule.id));
const samples = readSamples();

const written = (name: string): z.infer<typeof expectation> =>
  expectation.parse(parse(readFileSync(join(EXPECTED, name.replace(/\.md$/, ".yaml")), "utf8")));

const expectedOf = (name: string): readonly Expected[] => {
  const { now, later } = written(name);
  return [...now, ...later].filter((one) => known.has(one.rule)).sort(inOrder);
};

const inOrder = (a: { line: number; rule: string }, b: { line: number; rule: string }): number =>
  a.line - b.line || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);

function found(
  sample: Sample,
): readonly { line: number; rule: string; severity: string; finding: Finding }[] {
  return sample.analysis.findings
    .filter((one) => one.severity !== "info")
    .map((one) => ({ line: lineOf(sample, one), rule: one.rule, severity: one.severity, finding: one }))
    .sort(inOrder);
}

const wordsOf = ({ message, why, advice, fixes }: Finding): string =>
  [message, why, advice, ...fixes.map((fix) => fix.title)].join("\n").toLowerCase();

const lineup = (list: readonly { line: number; rule: string; severity: string }[]): readonly string[] =>
  list.map((one) => `line ${one.line}: ${one.severity} ${one.rule}`);

test("every sample has its expected findings beside it, and nothing else is there", () => {
  const files = readdirSync(EXPECTED).sort();
  expect(files).toEqual(sampleNames.map((name) => name.replace(/\.md$/, ".yaml")));
});

test("the samples' shop file reads without a complaint", () => {
  expect(readSampleShop().problems.map((problem) => problem.message)).toEqual([]);
});

describe.each(samples)("$name", (sample) => {
  test("gives exactly the findings that were written down for it", () => {
    expect(lineup(found(sample))).toEqual(lineup(expectedOf(sample.name)));
  });

  test("says in each finding what it is about", () => {
    const got = found(sample);
    for (const [i, one] of expectedOf(sample.name).entries()) {
      const words = got[i] ? wordsOf(got[i].finding) : "";
      expect(words, `line ${one.line}, ${one.rule}`).toContain(one.says.toLowerCase());
    }
  });

  test("accepts exactly what its reasons are there for", () => {
    const accepted = sample.analysis.accepted.map(({ finding: one }) => ({
      line: lineOf(sample, one),
      rule: one.rule,
      severity: one.severity,
    }));
    expect(lineup(accepted)).toEqual(lineup(written(sample.name).accepted ?? []));
    for (const { reason } of sample.analysis.accepted) expect(reason).not.toBe("");
  });

  test("is labelled as invented", () => {
    const { text } = sample.analysis.note;
    expect(text).toMatch(/^x-invented: true$/m);
    expect(text).toContain("Invented example of an invented workshop.");
  });
});
