import { displayWidth, harmless } from "../display-width.ts";
import { placeOf } from "../formats/places.ts";
import type { Style } from "../readable.ts";
import type { RuleText } from "../rule-text.ts";
import { wrap } from "../source-line.ts";
import type { NoteChange } from "./compare.ts";
import type { Baseline, NoteReview, ReviewedTopic } from "./review.ts";
import { besides, changeSays, inLines, type ReviewTotals, reviewTotals, standing } from "./words.ts";

/** A review to be read in a terminal. Each rule is explained once, where it first comes up. */
export class TextReview {
  readonly #taught = new Set<string>();
  readonly #rules: ReadonlyMap<string, RuleText>;

  constructor(
    rules: readonly RuleText[],
    private readonly style: Style,
    private readonly baseline: Baseline | undefined,
  ) {
    this.#rules = new Map(rules.map((rule) => [rule.id, rule]));
  }

  note(review: NoteReview): string {
    const { checked, topics, accepted, limits, change } = review;
    const out = [this.style.bold(harmless(`${checked.path}  ${standing(checked)}`))];
    const { subject } = checked.analysis.note.frontMatter.fields;
    if (subject) out.push(...this.#block(subject, 2));
    if (limits !== undefined) out.push(`  ${limits}`);
    if (change !== undefined) out.push("", ...this.#change(review, change));
    for (const topic of topics) out.push("", ...this.#topic(topic, review));
    if (accepted.length > 0) {
      out.push("", this.#heading("Accepted, with the reason given", accepted.length));
      for (const { finding, reason } of accepted) {
        out.push(`    ${this.#place(review, finding.range)}  ${finding.rule}: ${harmless(finding.message)}`);
        out.push(...this.#block(`Reason: ${reason}`, 8));
      }
    }
    if (topics.length === 0 && accepted.length === 0) out.push("", "  Nothing to report.");
    return `${out.join("\n")}\n\n`;
  }

  end(totals: ReviewTotals): string {
    const also = besides(this.baseline).map(({ path, says }) => `${harmless(path)} ${says}\n`);
    return `${also.join("")}${reviewTotals(totals, this.baseline)}\n`;
  }

  #change(review: NoteReview, change: NoteChange): string[] {
    const out = [
      `  ${this.style.bold(`Since ${harmless(this.baseline?.name ?? "")}`)}: ${changeSays(change)}`,
    ];
    const widest = Math.max(0, ...change.values.map(({ name }) => displayWidth(harmless(name))));
    for (const { name, before, after } of change.values) {
      const pad = " ".repeat(widest - displayWidth(harmless(name)));
      out.push(harmless(`    ${name}${pad}   ${before ?? "was not there"} → ${after ?? "is no more there"}`));
    }
    for (const finding of change.added) {
      out.push(
        `    new     ${this.#place(review, finding.range)}  ${finding.rule}: ${harmless(finding.message)}`,
      );
    }
    for (const { finding } of change.mended)
      out.push(`    mended  ${finding.rule}: ${harmless(finding.message)}`);
    return out;
  }

  #topic({ topic, rules, remarks }: ReviewedTopic, review: NoteReview): string[] {
    const count = rules.reduce((sum, { findings }) => sum + findings.length, remarks.length);
    const out = [this.#heading(topic.heading, count), ...this.#block(topic.says, 4)];
    for (const { rule, findings } of rules) {
      out.push("", ...this.#teach(rule));
      for (const { range, severity, message, advice } of findings) {
        out.push(`      ${this.#place(review, range)}  ${severity}: ${harmless(message)}`);
        out.push(...this.#block(`Do: ${advice}`, 10));
      }
    }
    if (remarks.length > 0) out.push("");
    for (const { says, advice, lines } of remarks) {
      out.push(...this.#block(`${says} (${inLines(lines)})`, 6), ...this.#block(`Do: ${advice}`, 10));
    }
    return out;
  }

  #teach(rule: string): string[] {
    const text = this.#rules.get(rule);
    const title = `    ${this.style.underline(rule)}: ${text?.page.title ?? ""}`;
    if (text === undefined || this.#taught.has(rule)) return [`${title} (explained above)`];
    this.#taught.add(rule);
    return [
      title,
      ...this.#block(text.page.means, 8),
      ...this.#block(`Why it matters: ${text.why}`, 8),
      ...this.#block(`What to do: ${text.page.mend}`, 8),
      ...(text.page.source ? this.#block(`Source: ${text.page.source}`, 8) : []),
    ];
  }

  #heading(words: string, count: number): string {
    return `  ${this.style.bold(`${words} (${count})`)}`;
  }

  #place({ checked }: NoteReview, range: Parameters<typeof placeOf>[0]): string {
    const { line, column } = placeOf(range, checked);
    return `${harmless(checked.path)}:${line}:${column}`;
  }

  #block(text: string, indent: number): string[] {
    return wrap(text, this.style.width - indent).map((line) => " ".repeat(indent) + line);
  }
}
