import { acceptFindings } from "../analysis/accepting.ts";
import type { Analysis, Finding, NamedValue, NameUse, TextEdit } from "../analysis/analysis.ts";
import { type Evaluated, type Evaluation, evaluateAll, type Logs } from "../analysis/evaluation.ts";
import type { EvaluationMemo } from "../analysis/evaluation-memo.ts";
import { evaluate } from "../analysis/expression.ts";
import { evaluateLimits, type LimitsEvaluated } from "../analysis/limits.ts";
import type { Problem } from "../analysis/problem.ts";
import { recordedEdits } from "../analysis/recording.ts";
import { collectNames, type Definition, namesIn, resolve } from "../analysis/scope.ts";
import { show } from "../analysis/showing.ts";
import { workingOf } from "../analysis/working.ts";
import type { LimitLine } from "../language/syntax.ts";
import type { Block, Note, Placed, Range } from "../note/note.ts";
import { acceptRules, rules as everyRule, findingRules as rules } from "../rules/registry.ts";
import { type Located, type Rule, rangeOn, type Subject } from "../rules/rule.ts";
import { type History, readHistory } from "../sequence/history.ts";
import type { Shop } from "../shop/shop.ts";

/** What only the world outside the note can tell. Gathered by an adaptor beforehand, so that `analyze` stays pure. */
export interface Surroundings {
  /** Link targets of the note that lead to no file. */
  readonly missing?: ReadonlySet<string>;
  /** Logs that series take their rows from (`from:`), by the key of the request for them. */
  readonly logs?: Logs;
  /** What an earlier analysis of this note worked out. Handing it in changes the time taken, never the answer. */
  readonly memo?: EvaluationMemo;
}

const NOTHING_MISSING: ReadonlySet<string> = new Set();
const NO_LOGS: Logs = new Map();
const NOTHING: readonly never[] = [];

/** Checks and computes one note. Pure: the same note, shop and surroundings give the same analysis. */
export function analyze(note: Note, shop: Shop, surroundings: Surroundings = {}): Analysis {
  const scope = collectNames(note, surroundings.memo?.scope);
  const evaluation = evaluateAll(scope, shop, surroundings.memo, surroundings.logs);
  const limits = evaluateLimits(note, evaluation);
  const procedureId = note.frontMatter.fields.procedure;
  const procedure = procedureId === undefined ? undefined : shop.procedures.get(procedureId);
  const byRule = problemsByRule(evaluation, limits);
  const subject: Subject = {
    note,
    shop,
    evaluation,
    limits,
    procedure,
    history: procedure && readHistory({ note, shop, evaluation, procedure }),
    accepts: [],
    ruleIds: RULE_IDS,
    missing: surroundings.missing ?? NOTHING_MISSING,
    logs: surroundings.logs ?? NO_LOGS,
    problems: <R extends Problem["rule"]>(rule: R) =>
      (byRule.get(rule) ?? []) as unknown as readonly Located<Extract<Problem, { rule: R }>>[],
  };
  const { findings, accepted, accepts } = acceptFindings(note, run(rules, subject));
  if (accepts.length > 0) findings.push(...run(acceptRules, { ...subject, accepts }));
  findings.sort(
    (a, b) => a.range.from - b.range.from || a.range.to - b.range.to || (a.rule < b.rule ? -1 : 1),
  );
  let values: readonly NamedValue[] | undefined;
  const analysis: Analysis = {
    note,
    // Made when asked for: findings go out first, and not every edit is followed by a look at the values.
    get values() {
      values ??= namedValues(evaluation, evaluation.scope.byKey.values());
      return values;
    },
    valuesIn: (range) => namedValues(evaluation, definedWithin(evaluation, range)),
    valueOf: (key) => {
      const definition = evaluation.scope.byKey.get(key);
      return definition && namedValues(evaluation, [definition])[0];
    },
    findings,
    accepted,
    logs: subject.logs,
    limits: limits.outcomes,
    nameUses: (within) => nameUses(note, evaluation, within),
    working: (value) => {
      const evaluated = evaluation.byKey.get(value.key);
      const text = note.text.slice(value.lineRange.from, value.lineRange.to);
      return evaluated
        ? workingOf(value, evaluated, evaluation, text)
        : {
            formula: text,
            numbers: "",
            result: "",
            contributions: [],
            assumptions: [],
            equations: [],
            sources: [],
            cautions: [],
          };
    },
    evaluate: (formula, label = "") =>
      evaluate(
        formula,
        evaluation.context(label, () => undefined),
      ),
    recordResults: (): readonly TextEdit[] => recordedEdits(note, evaluation, shop.units),
  };
  histories.set(analysis, subject.history);
  return analysis;
}

const RULE_IDS = everyRule.map(({ id }) => id);

const histories = new WeakMap<Analysis, History | undefined>();

/** How the steps of an analysed note went; undefined where it names no procedure that is known. */
export const historyOfAnalysis = (analysis: Analysis): History | undefined => histories.get(analysis);

function run(which: readonly Rule[], subject: Subject): Finding[] {
  const findings: Finding[] = [];
  for (const rule of which) {
    for (const report of rule.check(subject)) {
      findings.push({
        rule: rule.id,
        severity: report.severity ?? rule.severity,
        range: report.range,
        message: report.message,
        why: report.why ?? rule.why,
        advice: report.advice,
        related: report.related ?? NOTHING,
        fixes: report.fixes ?? NOTHING,
      });
    }
  }
  return findings;
}

/** One mistake, one finding: of a line's problems the first counts, and hints beside a value come on top. */
function problemsByRule(
  evaluation: Evaluation,
  limits: LimitsEvaluated,
): Map<Problem["rule"], Located<Problem>[]> {
  const byRule = new Map<Problem["rule"], Located<Problem>[]>();
  const add = (located: Located<Problem>) => {
    const list = byRule.get(located.problem.rule);
    if (list) list.push(located);
    else byRule.set(located.problem.rule, [located]);
  };
  for (const evaluated of evaluation.all) {
    if (evaluated.problems.length === 0) continue;
    let stopped = false;
    for (const problem of evaluated.problems) {
      const hint = problem.rule === "reading/out-of-validity" && problem.value;
      if (!hint && stopped) continue;
      if (!hint) stopped = true;
      add({ problem, placed: evaluated.definition.body.placed, evaluated });
    }
  }
  for (const { placed, problem } of limits.problems)
    add({ problem, placed: placed as Placed<LimitLine>, evaluated: undefined });
  return byRule;
}

function namedValues(evaluation: Evaluation, definitions: Iterable<Definition>): NamedValue[] {
  const values: NamedValue[] = [];
  for (const definition of definitions) {
    const { body } = definition;
    if (body.kind !== "line") continue;
    // A line that stops before its colon or equals sign may not even mean the name that it starts with.
    if (body.syntax.kind === "broken" && body.syntax.sign === undefined) continue;
    const evaluated = evaluation.byKey.get(definition.key);
    if (evaluated) values.push(namedValue(evaluated));
  }
  return values;
}

function namedValue(evaluated: Evaluated): NamedValue {
  const { definition, result } = evaluated;
  const { placed } = definition.body;
  const syntax = definition.body.kind === "line" ? definition.body.syntax : undefined;
  const derived = syntax?.kind === "formula" || (syntax?.kind === "broken" && syntax.sign === "=");
  const valueEnd =
    syntax?.kind === "formula"
      ? syntax.formula.span.to
      : syntax?.kind === "measured"
        ? syntax.value.span.to
        : 0;
  return {
    name: definition.name,
    key: definition.key,
    kind: result && result.kind !== "quantity" ? "text" : derived ? "derived" : "measured",
    nameRange: rangeOn(placed, definition.nameSpan),
    lineRange: { from: placed.offset, to: placed.offset + placed.length },
    line: placed.line,
    hintAt: placed.offset + valueEnd,
    get shown() {
      return result ? show(result) : undefined;
    },
  };
}

const touches = (block: Block, { from, to }: Range): boolean =>
  block.range.from <= to && block.range.to >= from;

function definedWithin({ scope }: Evaluation, range: Range): readonly Definition[] {
  return scope.all.filter(
    (definition) => touches(definition.block, range) && scope.byKey.get(definition.key) === definition,
  );
}

function nameUses(note: Note, evaluation: Evaluation, within: Range | undefined): NameUse[] {
  const { scope } = evaluation;
  const defined = within ? scope.all.filter(({ block }) => touches(block, within)) : scope.all;
  const uses: NameUse[] = defined.map((definition) => ({
    key: definition.key,
    range: rangeOn(definition.body.placed, definition.nameSpan),
    defines: true,
  }));
  for (const block of note.blocks) {
    if ((block.kind !== "readings" && block.kind !== "limits") || (within && !touches(block, within)))
      continue;
    for (const placed of block.lines) {
      const { syntax } = placed;
      const formula =
        syntax.kind === "formula" ? syntax.formula : syntax.kind === "limit" ? syntax.condition : undefined;
      if (!formula) continue;
      for (const name of namesIn(formula)) {
        const target = resolve(scope, block.label, name);
        uses.push({ key: target?.key ?? name.key, range: rangeOn(placed, name.span), defines: false });
      }
    }
  }
  return uses.sort((a, b) => a.range.from - b.range.from);
}
