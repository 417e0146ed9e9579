import type { AcceptOutcome } from "../analysis/accepting.ts";
import type { Fix, Severity } from "../analysis/analysis.ts";
import type { Evaluated, Evaluation, Logs } from "../analysis/evaluation.ts";
import type { LimitsEvaluated } from "../analysis/limits.ts";
import type { Problem } from "../analysis/problem.ts";
import type { Span } from "../language/syntax.ts";
import type { Note, Placed, Range } from "../note/note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import type { History } from "../sequence/history.ts";
import type { Shop } from "../shop/shop.ts";

/** Everything a rule may look at. Made once for all rules. */
export interface Subject {
  readonly note: Note;
  readonly shop: Shop;
  readonly evaluation: Evaluation;
  readonly limits: LimitsEvaluated;
  /** The note's procedure, when it names one that is known. */
  readonly procedure: Procedure | undefined;
  /** The steps read against the procedure, when there is one. */
  readonly history: History | undefined;
  /** Logs that series take their rows from. */
  readonly logs: Logs;
  /** Link targets that lead to no file. */
  readonly missing: ReadonlySet<string>;
  /** Accepts of the note with what became of them; only there for the rules about accepting. */
  readonly accepts: readonly AcceptOutcome[];
  /** Every rule that can be accepted. */
  readonly ruleIds: readonly string[];
  /** Problems of the evaluation by rule, in the order of the note. */
  problems<R extends Problem["rule"]>(rule: R): readonly Located<Extract<Problem, { rule: R }>>[];
}

export interface Located<P> {
  readonly problem: P;
  /** The line it stands on. */
  readonly placed: Placed<unknown>;
  /** The definition it arose in; undefined for limit lines. */
  readonly evaluated: Evaluated | undefined;
}

/** What a rule reports; the registry adds id, severity and the reason. */
export interface Report {
  readonly range: Range;
  readonly message: string;
  readonly advice: string;
  /** Instead of the rule's own reason, where it does not fit. */
  readonly why?: string;
  readonly severity?: Severity;
  readonly related?: readonly { readonly range: Range; readonly message: string }[];
  readonly fixes?: readonly Fix[];
}

/** One rule is one file that exports a `rule` and its `page`. */
export interface Rule {
  readonly id: string;
  readonly severity: Severity;
  /** Why it matters, in a sentence or two; stands beside every finding. */
  readonly why: string;
  check(subject: Subject): Iterable<Report>;
}

/** What the rule reference says. Kept apart from the rule so that the editor need not carry it. */
export interface RulePage {
  readonly title: string;
  /** What it means that the rule fires. */
  readonly means: string;
  /** How to put it right. */
  readonly mend: string;
  /** What the quick fix does, where there is one. */
  readonly fix?: string;
  readonly source?: string;
  readonly breaks: RuleExample;
  readonly keeps: RuleExample;
}

export interface RuleExample {
  /** The note's text. Front matter with a job number is put before it unless it brings its own. */
  readonly note: string;
  /** Shop file, where the example needs one. */
  readonly shop?: string;
  /** Link targets taken as missing. */
  readonly missing?: readonly string[];
}

export const rangeOn = (placed: Placed<unknown>, span: Span): Range => ({
  from: placed.offset + span.from,
  to: placed.offset + span.to,
});

/** A mend that replaces one range. */
export const replace = (title: string, range: Range, text: string, kind: Fix["kind"]): Fix => ({
  title,
  edits: [{ range, text }],
  kind,
});

/** `a, b or c`, each in back quotes. */
export function listed(words: readonly string[], last = "or"): string {
  const quoted = words.map((word) => `\`${word}\``);
  if (quoted.length < 2) return quoted.join("");
  return `${quoted.slice(0, -1).join(", ")} ${last} ${quoted[quoted.length - 1]}`;
}
