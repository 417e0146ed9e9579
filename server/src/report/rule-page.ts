import type { Rule, RuleExample, RulePage } from "../rules/rule.ts";

/** The page of a rule, as markdown: for the rule reference, the editor's link and the command line. */
export function rulePage(rule: Rule, page: RulePage): string {
  const parts = [
    `# ${page.title}`,
    `\`${rule.id}\`, ${SEVERITIES[rule.severity]}`,
    "## What it means",
    page.means,
    "## Why it matters",
    rule.why,
    "## What to do",
    page.mend,
  ];
  if (page.fix) parts.push("## Quick fix", page.fix);
  parts.push(
    "## An example that breaks it",
    example(page.breaks),
    "## An example that keeps it",
    example(page.keeps),
  );
  parts.push(
    "## Letting it stand",
    `Where the finding is right but must stand, accept it with a reason: \`# accept ${rule.id}: …\` at the end of the line, or \`<!-- accept ${rule.id}: … -->\` before the block.`,
  );
  if (page.source) parts.push("## Source", page.source);
  return `${parts.join("\n\n")}\n`;
}

const SEVERITIES = { error: "an error", warning: "a warning", info: "an information" } as const;

function example(of: RuleExample): string {
  const blocks = [fenced("markdown", of.note)];
  if (of.shop) blocks.push("with this in the shop file:", fenced("yaml", of.shop));
  if (of.missing) blocks.push(`where ${of.missing.map((path) => `\`${path}\``).join(", ")} does not exist.`);
  return blocks.join("\n\n");
}

/** The example holds fences of its own, so the outer one needs more marks. */
const fenced = (kind: string, text: string): string => `\`\`\`\`${kind}\n${text.trimEnd()}\n\`\`\`\``;

/** The list of all rules, by family. */
export function ruleIndex(rules: readonly Rule[], pages: ReadonlyMap<string, RulePage>): string {
  const families = new Map<string, Rule[]>();
  for (const rule of [...rules].sort((a, b) => (a.id < b.id ? -1 : 1))) {
    const family = rule.id.split("/")[0] ?? "";
    families.set(family, [...(families.get(family) ?? []), rule]);
  }
  const lines = [
    "# Rules",
    "",
    "Generated from the rules themselves; every example in these pages is a test.",
  ];
  for (const [family, members] of families) {
    lines.push("", `## ${family}`, "", "| rule | severity | fires on |", "|---|---|---|");
    for (const rule of members) {
      const title = pages.get(rule.id)?.title ?? "";
      lines.push(`| [\`${rule.id}\`](${rule.id.replace("/", "-")}.md) | ${rule.severity} | ${title} |`);
    }
  }
  return `${lines.join("\n")}\n`;
}
