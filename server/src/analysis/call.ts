import { findFunction, formulaFunctions } from "../physics/registry.ts";
import { nearest } from "../text/nearest.ts";
import { bindAll, type Call, isBeyondNature } from "./call-arguments.ts";
import { matchArguments } from "./call-matching.ts";
import { chain, inputsOf, shape } from "./call-result.ts";
import { callShopFormula } from "./call-shop-formula.ts";
import type { Context, Evaluate } from "./context.ts";
import { EXACT, type Result } from "./quantity.ts";

/** Works out a call: arguments matched, checked against the entry, and the sensitivities chained on. */
export function callFunction(call: Call, context: Context, evaluate: Evaluate): Result {
  const entry = findFunction(call.name.key);
  if (!entry) {
    const own = context.formulas.get(call.name.key);
    if (own) return callShopFormula(own, call, context, evaluate);
    // The arguments may hold mistakes of their own, but one line, one finding: the name comes first.
    const broken = context.formulas.has(call.name.key);
    return context.report({
      rule: "reading/undefined",
      case: broken ? "shop formula" : "function",
      span: call.name.span,
      name: call.name.text,
      nearest: broken ? [] : nearest(call.name.key, knownFunctions(context), 3),
    });
  }
  const matched = matchArguments(call, entry, context);
  if (!matched) return undefined;
  const bound = bindAll(call, entry, matched, context, evaluate);
  if (!bound) return undefined;

  if (context.trial && isBeyondNature(bound)) return undefined;
  const inputs = inputsOf(entry, bound);
  const outcome = entry.compute(inputs);
  if (!outcome.ok) {
    return context.report({
      rule: "reading/out-of-validity",
      span: call.span,
      function: entry.name,
      says: [outcome.says],
      value: false,
    });
  }
  if (!Number.isFinite(outcome.value.v)) {
    return context.report({
      rule: "reading/out-of-validity",
      span: call.span,
      function: entry.name,
      says: [`\`${entry.name}\` has no value for these numbers. It holds for: ${entry.validity}`],
      value: false,
    });
  }
  const outside = entry.outside?.(inputs, outcome.value.v) ?? [];
  if (outside.length > 0) {
    context.report({
      rule: "reading/out-of-validity",
      span: call.span,
      function: entry.name,
      says: outside,
      value: true,
    });
  }
  if (context.called) {
    const assumptions = [...bound.values()].flatMap((b) => (b.assumption ? [b.assumption] : []));
    context.called(entry, entry.remarks?.(inputs) ?? [], assumptions);
  }
  if (context.trial) {
    const own = outcome.scatter
      ? context.trial.drawOwn(call.span.from, outcome.scatter.standardUncertainty)
      : 0;
    return {
      kind: "quantity",
      si: outcome.value.v + own,
      ...shape(entry.gives, bound, context.units),
      by: EXACT,
    };
  }
  const by = chain(entry, outcome.value, bound, outcome.scatter);
  return { kind: "quantity", si: outcome.value.v, ...shape(entry.gives, bound, context.units), by };
}

function* knownFunctions({ formulas }: Context): Iterable<string> {
  for (const [name, formula] of formulas) if (formula) yield name;
  for (const { name } of formulaFunctions) yield name;
}
