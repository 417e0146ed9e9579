// An accept that does not say of what. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const FRONT = "---\njob: 1\n---\n\n";

function told(text: string) {
  return analyzeText(FRONT + text)
    .findings.filter(({ rule }) => rule === "accept/unused")
    .map(({ advice, fixes }) => ({
      advice,
      offers: fixes.map(({ edits: [edit] }) =>
        edit ? (FRONT + text).slice(0, edit.range.from) + edit.text : "",
      ),
    }));
}

describe("an accept without a rule", () => {
  it("offers the rules of what stands on its line", () => {
    const text =
      "```readings\nflow: 0.9 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept: part ordered\n```\n";
    const [one, ...others] = told(text);
    expect(others).toEqual([]);
    expect(one?.advice).toContain("`limit/exceeded`");
    expect(one?.offers[0]).toMatch(/# accept limit\/exceeded$/);
  });

  it("offers the rules of what stands in its block", () => {
    const text = "<!-- accept: both gauges -->\n\n```readings\np: 0.80 psi\np: 0.81 psi\nq: 3 flurb\n```\n";
    const [one] = told(text);
    expect(one?.advice).toContain("`reading/duplicate`");
    expect(one?.advice).toContain("`unit/unknown`");
    expect(one?.offers[0]).toMatch(/<!-- accept [a-z]+\/[a-z]+$/);
    expect(one?.offers).toHaveLength(3);
  });

  it("says so where nothing stands", () => {
    expect(told("```readings\np: 0.80 psi   # accept: why not\n```\n")[0]?.advice).toMatch(
      /^No finding stands here/,
    );
  });

  it("is no other remark", () => {
    expect(told("```readings\np: 0.80 psi   # accepted: by phone\n```\n")).toEqual([]);
  });

  it("accepts the finding once the offered rule is written", () => {
    const text = "```limits\nflow <= 0.5 L/min   # accept: later\n```\n\n```readings\nflow: 0.9 L/min\n```\n";
    const analysis = analyzeText(FRONT + text);
    const edit = analysis.findings.find(({ rule }) => rule === "accept/unused")?.fixes[0]?.edits[0];
    const whole = FRONT + text;
    const mended = edit ? whole.slice(0, edit.range.from) + edit.text + whole.slice(edit.range.to) : "";
    expect(analyzeText(mended).findings).toEqual([]);
    expect(analyzeText(mended).accepted).toHaveLength(1);
  });
});
