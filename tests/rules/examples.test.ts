// Every rule's own examples: the one that breaks it must fire it and nothing else of weight, the one that
// keeps it must be clean.
import { describe, expect, test } from "vitest";
import type { Finding } from "../../server/src/analysis/analysis.ts";
import { pages } from "../../server/src/rules/pages.ts";
import { rules } from "../../server/src/rules/registry.ts";
import type { RuleExample } from "../../server/src/rules/rule.ts";
import { analyzeText } from "../support/analyze-text.ts";

const found = (example: RuleExample) => {
  const text = example.note.startsWith("---") ? example.note : `---\njob: example\n---\n\n${example.note}`;
  return analyzeText(text, { shop: example.shop, missing: example.missing }).findings;
};

describe.each(rules.map((rule) => [rule.id, rule] as const))("%s", (id, rule) => {
  const page = pages.get(id);

  test("has a page", () => {
    expect(page).toBeDefined();
    expect(id).toMatch(/^[a-z]+\/[a-z-]+$/);
    expect(rule.why).toMatch(/[.!]$/);
    for (const text of [page?.means, page?.mend]) expect(text).toMatch(/[.!`]$/);
  });

  test("fires on the example that breaks it", () => {
    if (!page) throw new Error("no page");
    const ids = found(page.breaks).map((finding) => finding.rule);
    expect(ids).toContain(id);
    const others = found(page.breaks).filter(
      (finding) => finding.rule !== id && finding.severity === "error",
    );
    // An accept without its reason lets the finding itself stand.
    if (!id.startsWith("accept/")) expect(others).toEqual([]);
  });

  test("is silent on the example that keeps it", () => {
    if (!page) throw new Error("no page");
    // An example is a piece of a job; that the rest of it is still missing is only information.
    const rest = (finding: Finding) => finding.rule === "sequence/incomplete" && finding.severity === "info";
    const said = found(page.keeps).filter((finding) => !rest(finding));
    expect(said.map((finding) => `${finding.rule}: ${finding.message}`)).toEqual([]);
  });
});

test("every page belongs to a rule", () => {
  expect([...pages.keys()].sort()).toEqual(rules.map((rule) => rule.id).sort());
});
