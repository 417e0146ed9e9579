import { displayWidth } from "../report/display-width.ts";
import { count } from "../report/readable.ts";
import { wrap } from "../report/source-line.ts";
import { pages } from "../rules/pages.ts";
import { rules } from "../rules/registry.ts";
import type { Rule, RulePage } from "../rules/rule.ts";
import { nearest } from "../text/nearest.ts";
import { EXIT, type ExitStatus, lookFor, type Outside } from "./outside.ts";

/** `witness-mark why RULE`: prints the page of a rule; without a rule, the list of all. */
export function why(asked: string | undefined, outside: Outside): ExitStatus {
  const { width } = lookFor(outside);
  if (asked === undefined) {
    outside.out(ruleList());
    return EXIT.clear;
  }
  const rule = rules.find(({ id }) => id === asked);
  const page = pages.get(asked);
  if (rule === undefined || page === undefined) {
    const ids = rules.map(({ id }) => id);
    const [near] = nearest(asked, ids, 1);
    const [behindSlash] = ids.filter((id) => id.endsWith(`/${asked}`));
    const offer = behindSlash ?? near;
    outside.err(
      `There is no rule \`${asked}\`.${offer === undefined ? "" : ` Did you mean \`${offer}\`?`}\n` +
        "witness-mark why lists all rules.\n",
    );
    return EXIT.failed;
  }
  outside.out(rulePage(rule, page, width));
  return EXIT.clear;
}

function ruleList(): string {
  const widest = Math.max(...rules.map(({ id }) => displayWidth(id)));
  const lines = rules.map(({ id }) => `  ${id.padEnd(widest)}  ${pages.get(id)?.title ?? ""}`.trimEnd());
  return `${count(rules.length, "rule", "rules")}; witness-mark why RULE tells more about one.\n\n${lines.join("\n")}\n`;
}

function rulePage(rule: Rule, page: RulePage, width: number): string {
  const says = (label: string, text: string | undefined): string =>
    text === undefined ? "" : `${label}\n${indented(wrap(text, width - 4))}\n`;
  return [
    `${rule.id} (${rule.severity}): ${page.title}\n`,
    says("What it means", page.means),
    says("Why it matters", rule.why),
    says("What to do", page.mend),
    says("What the quick fix does", page.fix),
    says("Source", page.source),
    `Is reported\n${indented(page.breaks.note.trimEnd().split("\n"))}\n`,
    `Is left alone\n${indented(page.keeps.note.trimEnd().split("\n"))}\n`,
  ]
    .filter((part) => part !== "")
    .join("\n");
}

const indented = (lines: readonly string[]): string =>
  lines.map((line) => `    ${line}`.trimEnd()).join("\n");
