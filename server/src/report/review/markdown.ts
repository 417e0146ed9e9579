import type { Severity } from "../../analysis/analysis.ts";
import { onOneLine, placeOf } from "../formats/places.ts";
import type { RuleText } from "../rule-text.ts";
import type { NoteChange } from "./compare.ts";
import type { Baseline, NoteReview, ReviewedTopic } from "./review.ts";
import { besides, changeSays, inLines, type ReviewTotals, reviewTotals, standing } from "./words.ts";

/**
 * A review as GitHub Flavored Markdown, to be put below a request to merge. Whatever comes from a note is
 * escaped: it can neither draw a heading, nor call somebody by name, nor start HTML.
 */
export class MarkdownReview {
  readonly #taught: RuleText[] = [];
  readonly #rules: ReadonlyMap<string, RuleText>;

  constructor(
    rules: readonly RuleText[],
    private readonly baseline: Baseline | undefined,
  ) {
    this.#rules = new Map(rules.map((rule) => [rule.id, rule]));
  }

  start(): string {
    const since = this.baseline === undefined ? "" : ` since ${md(this.baseline.name)}`;
    return `# Review of job notes${since}\n\n`;
  }

  note(review: NoteReview): string {
    const { checked, topics, accepted, limits, change } = review;
    const { subject } = checked.analysis.note.frontMatter.fields;
    const out = [`## ${md(checked.path)}`, `${md(standing(checked))}${subject ? `: ${md(subject)}` : ""}`];
    if (limits !== undefined) out.push(limits);
    if (change !== undefined) out.push(...this.#change(review, change));
    for (const topic of topics) out.push(...this.#topic(topic, review));
    if (accepted.length > 0) {
      out.push(
        "### Accepted, with the reason given",
        accepted
          .map(
            ({ finding, reason }) =>
              `- ${at(review, finding.range)} \`${finding.rule}\`: ${md(finding.message)} **Reason:** ${md(reason)}`,
          )
          .join("\n"),
      );
    }
    if (topics.length === 0 && accepted.length === 0) out.push("Nothing to report.");
    return `${out.join("\n\n")}\n\n`;
  }

  end(totals: ReviewTotals): string {
    const out: string[] = [];
    const also = besides(this.baseline);
    if (also.length > 0) out.push(also.map(({ path, says }) => `- ${md(path)} ${md(says)}`).join("\n"));
    out.push(`**${md(reviewTotals(totals, this.baseline))}**`);
    if (this.#taught.length > 0) {
      out.push("## What these rules are about");
      for (const { id, page, why } of this.#taught) {
        const source = page.source ? `\n\nSource: ${md(page.source)}` : "";
        out.push(
          `**\`${id}\`: ${md(page.title)}**\n\n${md(page.means)}\n\nWhy it matters: ${md(why)}\n\nWhat to do: ${md(page.mend)}${source}`,
        );
      }
    }
    return `${out.join("\n\n")}\n`;
  }

  #change(review: NoteReview, change: NoteChange): string[] {
    const out = [`### Since ${md(this.baseline?.name ?? "")}`, md(changeSays(change))];
    if (change.values.length > 0) {
      const rows = change.values.map(
        ({ name, before, after }) =>
          `| ${md(name)} | ${md(before ?? "was not there")} | ${md(after ?? "is no more there")} |`,
      );
      out.push(["| Reading | Then | Now |", "| --- | --- | --- |", ...rows].join("\n"));
    }
    const lines = [
      ...change.added.map(
        ({ range, rule, message }) => `- new: ${at(review, range)} \`${rule}\`: ${md(message)}`,
      ),
      ...change.mended.map(({ finding }) => `- mended: \`${finding.rule}\`: ${md(finding.message)}`),
    ];
    if (lines.length > 0) out.push(lines.join("\n"));
    return out;
  }

  #topic({ topic, rules, remarks }: ReviewedTopic, review: NoteReview): string[] {
    const lines: string[] = [];
    for (const { rule, findings } of rules) {
      const text = this.#rules.get(rule);
      if (text !== undefined && !this.#taught.includes(text)) this.#taught.push(text);
      for (const { range, severity, message, advice } of findings) {
        lines.push(
          `- **${WORD[severity]}**, ${at(review, range)}, \`${rule}\`: ${md(message)}\n  *Do:* ${md(advice)}`,
        );
      }
    }
    for (const { says, advice, lines: places } of remarks) {
      lines.push(`- ${inLines(places)}: ${md(says)}\n  *Do:* ${md(advice)}`);
    }
    return [`### ${topic.heading}`, `*${md(topic.says)}*`, lines.join("\n")];
  }
}

const WORD: Readonly<Record<Severity, string>> = { error: "Error", warning: "Warning", info: "Info" };

function at({ checked }: NoteReview, range: Parameters<typeof placeOf>[0]): string {
  return `line ${placeOf(range, checked).line}`;
}

/** Text as it is, with words in back quotes kept as code. */
function md(text: string): string {
  const pieces = onOneLine(text).split(/`([^`]+)`/);
  return pieces.map((piece, i) => (i % 2 === 1 ? code(piece) : escaped(piece))).join("");
}

// A bar would end the cell of a table even inside code.
const code = (text: string): string => `\`${text.replace(/\|/g, "\\|")}\``;

/** ASCII punctuation may always be escaped (CommonMark 0.31, 2.4); an `@` is parted from its name. */
const escaped = (text: string): string =>
  text
    .replace(/[\\`*_{}[\]<>#|~!&$]/g, "\\$&")
    .replace(/^(\d+)([.)])(?=\s|$)/, "$1\\$2")
    .replace(/^([-+=])(?=\s|$|[-=])/, "\\$1")
    .replace(/@/g, "@\u200b")
    .replace(/:\/\//g, ":\u200b//");
