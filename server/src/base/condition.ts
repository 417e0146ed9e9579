import type { Context } from "../analysis/context.ts";
import { evaluate } from "../analysis/expression.ts";
import type { Problem } from "../analysis/problem.ts";
import { EXACT, type Quantity, type Result, type Source } from "../analysis/quantity.ts";
import { readFormula } from "../language/formula.ts";
import type { Expression, LineProblem } from "../language/syntax.ts";
import { STANDARD_PRESSURE } from "../physics/atmosphere.ts";
import { PRESSURE } from "../units/dimension.ts";
import { type Base, type Named, storedValue } from "./base.ts";
import { isField, isMeasuredField, quantityOfField, textsOf } from "./fields.ts";
import { checkNames, type Misread } from "./names.ts";
import { askAbout, durationOf, isQuestion, withDurations } from "./questions.ts";
import type { NoteRecord } from "./record.ts";
import { withColumns } from "./series-columns.ts";
import { compareWords, isWords, sameWords, textOf } from "./words-compared.ts";

/**
 * A condition on notes, in the formula language of the notes. Beside the readings, the front matter has
 * names, and a few questions are asked like functions. A name means what it means in the note: the reading
 * itself, or inside a labelled block that block's own. So a condition is tried for the note and for each of
 * its labelled blocks, and the note is found when one of them meets it.
 *
 * What a note does not say is neither true nor false: a note without a `leak size` is found neither by
 * `leak size > 1 mm` nor by `not leak size > 1 mm`, but by `leak size > 1 mm or procedure is "evap-leak"`
 * when it is one (three-valued logic after Kleene).
 */
export interface Condition {
  readonly text: string;
  /** Readings that it names, lower case, in order. */
  readonly names: readonly string[];
  /** The label for which the note meets it (empty for the note itself); undefined when it does not. */
  meets(note: number): string | undefined;
  /** What kept notes out that does not lie in the note alone, such as a unit of another kind: how often. */
  readonly kept: ReadonlyMap<string, number>;
}

export type ConditionReading =
  | { readonly ok: true; readonly condition: Asked }
  | ({ readonly ok: false } & Misread);

/** Reads a condition and holds its names to those that the notes have. */
export function readCondition(text: string, base: Base): ConditionReading {
  const problems: LineProblem[] = [];
  const { expression, end } = readFormula(text, 0, text.length, problems);
  const [problem] = problems;
  if (problem) return { ok: false, message: problem.message, advice: problem.advice, at: problem.span };
  if (text.slice(end).trim() !== "") {
    return {
      ok: false,
      message: `The condition cannot be read from \`${text.slice(end).trim()}\` on.`,
      advice: 'Join conditions by `and` or `or`, and put words in quotes: `procedure is "lamp-moisture"`.',
      at: { from: end, to: text.length },
    };
  }
  const asked = withColumns(expression, base);
  const names = checkNames(asked, base);
  if (!Array.isArray(names)) return { ok: false, ...names };
  return { ok: true, condition: new Asked(text, withDurations(asked), names, base) };
}

/** What one try needs to know: the note, the label, and what to do with trouble. */
interface Try {
  readonly note: NoteRecord;
  readonly index: number;
  readonly label: string;
}

export class Asked implements Condition {
  readonly kept = new Map<string, number>();
  readonly #values: ReadonlyMap<string, ReadonlyMap<number, readonly Named[]>>;
  readonly #context: Context;
  #try: Try | undefined;

  constructor(
    readonly text: string,
    readonly expression: Expression,
    readonly names: readonly string[],
    private readonly base: Base,
  ) {
    this.#values = new Map(names.map((name) => [name, base.named(name) ?? new Map()]));
    const sources = new Map<string, Source>();
    const unitsNow = () => this.#try && base.unitsOf(this.#try.note);
    this.#context = {
      lookup: ({ key }) => this.#lookUp(key),
      nearestNames: () => [],
      material: () => undefined,
      materialNames: () => [],
      // A unit of a shop's own means for each note what its own shop means by it.
      get units() {
        return unitsNow();
      },
      formulas: new Map(),
      report: (problem) => this.#keep(problem),
      ambient: () => ({ quantity: STANDARD_AMBIENT, says: undefined }),
      assumed: (says, standard) => {
        const known = sources.get(says) ?? { says, standard };
        sources.set(says, known);
        return known;
      },
    };
  }

  meets(index: number): string | undefined {
    const note = this.base.notes[index];
    if (note === undefined) return undefined;
    for (const label of this.labels(index)) {
      this.#try = { note, index, label };
      if (this.#truth(this.expression) === true) return label;
    }
    return undefined;
  }

  /** Whether a part of the condition holds; undefined where the note does not say. */
  holds(part: Expression, index: number, label: string): boolean | undefined {
    const note = this.base.notes[index];
    if (note === undefined) return undefined;
    this.#try = { note, index, label };
    return this.#truth(part);
  }

  /** The value of the whole as a formula: for tables, which list what a condition would decide on. */
  value(index: number, label: string): Result {
    const note = this.base.notes[index];
    if (note === undefined) return undefined;
    this.#try = { note, index, label };
    return evaluate(this.expression, this.#context);
  }

  /** The note itself first, then each labelled block that has one of the names. */
  labels(index: number): Iterable<string> {
    let labels: Set<string> | undefined;
    for (const notes of this.#values.values()) {
      for (const { label } of notes.get(index) ?? []) {
        if (label === "") continue;
        labels ??= new Set([""]);
        labels.add(label);
      }
    }
    return labels ?? NO_LABEL;
  }

  #lookUp(key: string): Result | "missing" {
    const now = this.#try;
    if (now === undefined) return "missing";
    if (isMeasuredField(key)) return quantityOfField(now.note, key);
    const duration = durationOf(key, now.note);
    if (duration !== "no question") return duration;
    const found = this.#values.get(key)?.get(now.index);
    if (found === undefined) return undefined;
    const own = found.find(({ label }) => label === now.label) ?? found.find(({ label }) => label === "");
    return own && storedValue(own.record);
  }

  #keep(problem: Problem): undefined {
    const says = inWords(problem);
    if (says !== undefined) this.kept.set(says, (this.kept.get(says) ?? 0) + 1);
    return undefined;
  }

  #truth(node: Expression): boolean | undefined {
    const now = this.#try;
    if (now === undefined) return undefined;
    switch (node.kind) {
      case "truth":
        return node.value;
      case "not": {
        const inner = this.#truth(node.operand);
        return inner === undefined ? undefined : !inner;
      }
      case "is": {
        const wanted = textOf(node.text);
        const texts = wanted === undefined ? undefined : this.#textsOf(node.subject);
        if (wanted === undefined || texts === undefined || texts.length === 0) return undefined;
        return texts.some((text) => sameWords(text, wanted));
      }
      case "call":
        if (isQuestion(node.name.key)) return askAbout(node, now.note, this.#has(node));
        return this.#leaf(node);
      case "binary": {
        if (node.operator === "and" || node.operator === "or") {
          const left = this.#truth(node.left);
          const decided = node.operator === "or";
          if (left === decided) return decided;
          const right = this.#truth(node.right);
          if (right === decided) return decided;
          return left === undefined || right === undefined ? undefined : !decided;
        }
        if (isWords(node)) {
          return compareWords(node, (side) => this.#textsOf(side));
        }
        return this.#leaf(node);
      }
      default:
        return this.#leaf(node);
    }
  }

  #leaf(node: Expression): boolean | undefined {
    const value = evaluate(node, this.#context);
    return value?.kind === "truth" ? value.value : undefined;
  }

  /** Whether `has(…)` names something that the note has, with a value. */
  #has(node: Expression & { kind: "call" }): boolean {
    const asked = node.args[0]?.value;
    if (asked?.kind !== "name" || this.#try === undefined) return false;
    const { key } = asked.name;
    if (isField(key)) return textsOf(this.#try.note, key).length > 0;
    return (this.#values.get(key)?.get(this.#try.index) ?? []).some(
      ({ record }) => record.value !== undefined,
    );
  }

  #textsOf(node: Expression): readonly string[] | undefined {
    const literal = textOf(node);
    if (literal !== undefined) return [literal];
    if (node.kind !== "name" || this.#try === undefined) return undefined;
    if (isField(node.name.key)) return textsOf(this.#try.note, node.name.key);
    const value = this.#lookUp(node.name.key);
    if (value === undefined || value === "missing" || value.kind === "quantity") return undefined;
    return [value.kind === "text" ? value.text : value.value ? "yes" : "no"];
  }
}

/** Records do not keep which ambient pressure held; the standard atmosphere stands in. */
const STANDARD_AMBIENT: Quantity = {
  kind: "quantity",
  si: STANDARD_PRESSURE,
  dimension: PRESSURE,
  scale: "absolute",
  unit: undefined,
  by: EXACT,
};

const NO_LABEL: readonly string[] = [""];

/** Trouble that the asker can do something about. */
function inWords(problem: Problem): string | undefined {
  if (problem.rule === "unit/mismatch" && problem.case === "comparison") {
    const [left, right] = [problem.left.unit || "a plain number", problem.right.unit || "a plain number"];
    return `${left} cannot be compared with ${right}`;
  }
  if (problem.rule === "unit/mismatch" && problem.case === "sum") {
    return `${problem.left.unit || "a plain number"} ${problem.operator} ${problem.right.unit || "a plain number"} has no meaning`;
  }
  if (problem.rule === "unit/scale-point" && problem.case === "gauge against absolute") {
    return "a gauge pressure cannot be compared with an absolute one";
  }
  if (problem.rule === "unit/unknown") return `\`${problem.spelling}\` is no unit in their shop`;
  if (problem.rule === "unit/mismatch") return "a value of another kind stands under that name";
  return undefined;
}
