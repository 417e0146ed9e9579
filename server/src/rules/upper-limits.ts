import { evaluate } from "../analysis/expression.ts";
import { conjuncts } from "../analysis/limits.ts";
import type { Quantity } from "../analysis/quantity.ts";
import type { Expression, LimitLine } from "../language/syntax.ts";
import type { Placed } from "../note/note.ts";
import type { Subject } from "./rule.ts";

/** A line of a limits block that says how high something may go. */
export interface UpperLimit {
  /** In lower case, as written: the bare name inside a labelled block. */
  readonly name: string;
  readonly bound: Quantity;
  /** Empty where the line names none. */
  readonly source: string;
  readonly placed: Placed<LimitLine>;
}

const gathered = new WeakMap<Subject["evaluation"], readonly UpperLimit[]>();

/** Every `name <= quantity` (or the other way round) of the note's limits. */
export function upperLimits(subject: Subject): readonly UpperLimit[] {
  const known = gathered.get(subject.evaluation);
  if (known) return known;
  const made: UpperLimit[] = [];
  for (const block of subject.note.blocks) {
    if (block.kind !== "limits") continue;
    const context = subject.evaluation.context(block.label, () => undefined);
    for (const placed of block.lines) {
      const { syntax } = placed;
      if (syntax.kind !== "limit" || syntax.problems.length > 0) continue;
      for (const part of conjuncts(syntax.condition)) {
        const sides = part.kind === "binary" ? namedAndBound(part) : undefined;
        const bound = sides && evaluate(sides.bound, context);
        if (!sides || bound?.kind !== "quantity") continue;
        const line = placed as Placed<LimitLine>;
        made.push({ name: sides.name, bound, source: syntax.source?.text ?? "", placed: line });
      }
    }
  }
  gathered.set(subject.evaluation, made);
  return made;
}

function namedAndBound(
  node: Extract<Expression, { kind: "binary" }>,
): { name: string; bound: Expression } | undefined {
  const below = node.operator === "<" || node.operator === "<=";
  const above = node.operator === ">" || node.operator === ">=";
  if (!below && !above) return undefined;
  const named = below ? node.left : node.right;
  return named.kind === "name" ? { name: named.name.key, bound: below ? node.right : node.left } : undefined;
}
