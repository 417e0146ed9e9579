import { findFunction, formulaFunctions } from "../physics/registry.ts";
import { nearest } from "../text/nearest.ts";
import { type Bound, bindAll, type Call, matchArguments } from "./call-arguments.ts";
import { chain, inputsOf, shape } from "./call-result.ts";
import type { Context, Evaluate } from "./context.ts";
import { EXACT, type Result } from "./quantity.ts";

/** Works out a call: arguments matched, checked against the entry, and the sensitivities chained on. */
export function callFunction(call: Call, context: Context, evaluate: Evaluate): Result {
  const entry = findFunction(call.name.key);
  if (!entry) {
    // The arguments may hold mistakes of their own, but one line, one finding: the name comes first.
    return context.report({
      rule: "reading/undefined",
      case: "function",
      span: call.name.span,
      name: call.name.text,
      nearest: nearest(
        call.name.key,
        formulaFunctions.map((f) => f.name),
        3,
      ),
    });
  }
  const matched = matchArguments(call, entry, context);
  if (!matched) return undefined;
  const bound = bindAll(call, entry, matched, context, evaluate);
  if (!bound) return undefined;

  // No air is damper than damp: a trial that draws such a humidity is one that cannot be.
  if (context.trial && [...bound].some(([name, one]) => name.endsWith("humidity") && isNoShare(one)))
    return undefined;
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
    context.called(entry, inputs, assumptions);
  }
  if (context.trial) {
    const own = outcome.scatter
      ? context.trial.drawOwn(call.span.from, outcome.scatter.standardUncertainty)
      : 0;
    return { kind: "quantity", si: outcome.value.v + own, ...shape(entry.gives, bound), by: EXACT };
  }
  const by = chain(entry, outcome.value, bound, outcome.scatter);
  return { kind: "quantity", si: outcome.value.v, ...shape(entry.gives, bound), by };
}

const isNoShare = ({ quantity }: Bound): boolean =>
  quantity !== undefined && (quantity.si < 0 || quantity.si > 1);
