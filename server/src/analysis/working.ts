import type { Expression, MeasuredLine } from "../language/syntax.ts";
import type { NamedValue, Working } from "./analysis.ts";
import type { Evaluated, Evaluation } from "./evaluation.ts";
import { evaluate } from "./expression.ts";
import { contributions, type Quantity } from "./quantity.ts";
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
      called: (entry, remarks, assumed) => {
        addOnce(equations, `${entry.name}: ${entry.equation}`);
        for (const text of [...entry.assumes, ...assumed, ...remarks]) addOnce(assumptions, text);
        if (entry.source !== "") addOnce(sources, entry.source);
        if (entry.caution) addOnce(cautions, entry.caution);
      },
    });
  }
  if (result?.kind === "quantity") {
    for (const text of aboutInstruments(syntax?.kind === "measured" ? syntax : undefined, result))
      addOnce(assumptions, text);
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

/** What the uncertainty takes for granted about instruments. */
function* aboutInstruments(line: MeasuredLine | undefined, result: Quantity): Iterable<string> {
  if (line?.instrument && !line.tolerance) {
    const known = [...result.by.keys()].some((source) => !source.says.startsWith("resolution of "));
    // Without its accuracy a reading looks better than it is; that must not go unsaid.
    if (!known)
      yield `The accuracy of \`${line.instrument.text}\` is not known here, so only the last digit counts; the true uncertainty is larger.`;
  }
  const shared = new Map<string, number>();
  for (const { instrument } of result.by.keys()) {
    if (instrument === undefined) continue;
    const count = (shared.get(instrument) ?? 0) + 1;
    shared.set(instrument, count);
    if (count === 2)
      yield `Readings through \`${instrument.toUpperCase()}\` share its error to an unknown degree; the larger uncertainty is shown. \`split\` in the shop file can tell more.`;
  }
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
