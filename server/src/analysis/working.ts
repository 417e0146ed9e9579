import type { Expression } from "../language/syntax.ts";
import type { NamedValue, Working } from "./analysis.ts";
import type { Evaluated, Evaluation } from "./evaluation.ts";
import { evaluate } from "./expression.ts";
import { contributions } from "./quantity.ts";
import { show } from "./showing.ts";

/** How a value came about, with the numbers put in for the names. */
export function workingOf(
  value: NamedValue,
  evaluated: Evaluated,
  evaluation: Evaluation,
  lineText: string,
): Working {
  const { definition, result } = evaluated;
  const { body } = definition;
  const syntax = body.kind === "line" ? body.syntax : undefined;
  const assumptions: string[] = [];
  const equations: string[] = [];
  const sources: string[] = [];
  const cautions: string[] = [];
  let formula = lineText.trim();
  let numbers = "";
  if (syntax?.kind === "formula") {
    formula = lineText.slice(syntax.formula.span.from, syntax.formula.span.to);
    const context = evaluation.context(definition.block.label, () => undefined);
    numbers = withNumbers(lineText, syntax.formula, (node) => {
      const found = evaluate(node, context);
      if (!found) return undefined;
      return show(found).text;
    });
    evaluate(syntax.formula, {
      ...context,
      called: (entry, inputs, assumed) => {
        addOnce(equations, `${entry.name}: ${entry.equation}`);
        for (const text of [...entry.assumes, ...assumed, ...(entry.remarks?.(inputs) ?? [])])
          addOnce(assumptions, text);
        addOnce(sources, entry.source);
        if (entry.caution) addOnce(cautions, entry.caution);
      },
    });
  }
  if (result?.kind === "quantity" && result.simulated) addOnce(assumptions, result.simulated);
  if (result?.kind === "quantity" && result.unit?.remark) addOnce(assumptions, result.unit.remark);
  return {
    formula,
    numbers,
    result: value.shown?.text ?? "",
    contributions: result?.kind === "quantity" ? contributions(result.by) : [],
    assumptions,
    equations,
    sources,
    cautions,
  };
}

const addOnce = (list: string[], text: string): void => {
  if (!list.includes(text)) list.push(text);
};

/** The formula's text with each name replaced by what it stands for. */
function withNumbers(
  text: string,
  formula: Expression,
  standsFor: (name: Expression) => string | undefined,
): string {
  const names: Expression[] = [];
  const visit = (node: Expression): void => {
    if (node.kind === "name") names.push(node);
    else if (node.kind === "binary") {
      visit(node.left);
      visit(node.right);
    } else if (node.kind === "negate" || node.kind === "not") visit(node.operand);
    else if (node.kind === "is") visit(node.subject);
    else if (node.kind === "call") for (const argument of node.args) visit(argument.value);
  };
  visit(formula);
  let out = "";
  let at = formula.span.from;
  for (const node of names.sort((a, b) => a.span.from - b.span.from)) {
    const value = standsFor(node);
    if (value === undefined) continue;
    const shown = value.includes(" ± ") ? `(${value})` : value;
    out += text.slice(at, node.span.from) + shown;
    at = node.span.to;
  }
  return out + text.slice(at, formula.span.to);
}
