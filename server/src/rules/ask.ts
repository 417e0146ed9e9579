import { evaluate } from "../analysis/expression.ts";
import type { Result } from "../analysis/quantity.ts";
import { readReadingsLine } from "../language/readings-line.ts";
import type { Expression } from "../language/syntax.ts";
import type { Subject } from "./rule.ts";

const read = new Map<string, Expression | undefined>();

/**
 * What a formula of the rule's own comes to among the readings of the note, as if it stood in a block with
 * this label. Undefined where a reading that it needs is not there or has no value.
 */
export function ask(formula: string, { evaluation }: Subject, label = ""): Result {
  if (!read.has(formula)) {
    // Formulas hold names of the note; a long session must not grow without bound.
    if (read.size > 500) read.clear();
    const line = readReadingsLine(`asked = ${formula}`);
    read.set(formula, line.kind === "formula" && line.problems.length === 0 ? line.formula : undefined);
  }
  const expression = read.get(formula);
  return (
    expression &&
    evaluate(
      expression,
      evaluation.context(label, () => undefined),
    )
  );
}
