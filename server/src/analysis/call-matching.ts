import type { Argument } from "../language/syntax.ts";
import type { FunctionEntry, Parameter } from "../physics/function.ts";
import type { Call } from "./call-arguments.ts";
import type { Context } from "./context.ts";

/** Which argument is for which parameter depends on the written call alone, so it is found once for each. */
export function matchArguments(
  call: Call,
  entry: FunctionEntry,
  context: Context,
): ReadonlyMap<Parameter, Argument> | undefined {
  const known = matches.get(call);
  if (known?.entry === entry) return known.matched;
  const matched = match(call, entry, context);
  if (matched) matches.set(call, { entry, matched });
  return matched;
}

const matches = new WeakMap<Call, { entry: FunctionEntry; matched: ReadonlyMap<Parameter, Argument> }>();

function match(
  call: Call,
  entry: FunctionEntry,
  context: Context,
): ReadonlyMap<Parameter, Argument> | undefined {
  const matched = new Map<Parameter, Argument>();
  const first = entry.parameters[0];
  if (
    first?.takes.kind === "samples" &&
    call.args.length > 1 &&
    call.args.every((a) => !a.label && a.value.kind === "number")
  ) {
    // `mean(9.1, 9.3, 9.2 A)`: the numbers are one list.
    const whole = call.args[0];
    if (whole) matched.set(first, whole);
    return matched;
  }
  let position = 0;
  for (const argument of call.args) {
    const parameter = argument.label
      ? entry.parameters.find((p) => p.name === argument.label?.key)
      : entry.parameters[position++];
    if (!parameter || matched.has(parameter)) {
      return context.report({
        rule: "note/syntax",
        span: argument.label?.span ?? argument.span,
        message: !parameter
          ? argument.label
            ? `\`${entry.name}\` has nothing called \`${argument.label.text}\`.`
            : tooMany(entry)
          : `\`${parameter.name}\` is given twice.`,
        advice: `Write it as \`${signature(entry)}\`.`,
      });
    }
    matched.set(parameter, argument);
  }
  const named = entry.parameters.some((p) => p.takes.kind === "material" && matched.has(p));
  const missing = entry.parameters.find((p) => !p.optional && !matched.has(p) && !(named && p.ofMaterial));
  if (missing) {
    return context.report({
      rule: "note/syntax",
      span: call.name.span,
      message: `\`${entry.name}\` needs its ${missing.name}: ${missing.says}.`,
      advice: `Write it as \`${signature(entry)}\`.`,
    });
  }
  return matched;
}

const tooMany = ({ name, parameters }: FunctionEntry): string =>
  parameters.length === 1
    ? `\`${name}\` takes one value and gets more.`
    : `\`${name}\` takes ${parameters.length} values and gets more.`;

/** `orifice size(flow, drop, [upstream], …)`: optional arguments in square brackets. */
export const signature = (entry: FunctionEntry): string =>
  `${entry.name}(${entry.parameters.map((p) => (p.optional ? `[${p.name}]` : p.name)).join(", ")})`;
