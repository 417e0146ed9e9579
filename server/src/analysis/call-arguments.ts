import type { Argument, Expression } from "../language/syntax.ts";
import type { FunctionEntry, Parameter } from "../physics/function.ts";
import type { Dimension } from "../units/dimension.ts";
import { describeDimension, PLAIN_NUMBER, readUnit } from "../units/index.ts";
import { type Scale, toSI, type Unit } from "../units/unit.ts";
import { asOperand, unitShown } from "./arithmetic.ts";
import { bindOfMaterial, namedMaterial, noFigure } from "./call-material.ts";
import { differenceScale } from "./call-result.ts";
import { type Context, describe, type Evaluate } from "./context.ts";
import { typeA } from "./measured.ts";
import { EXACT, type Quantity, type Result, type Sensitivities, standardUncertainty } from "./quantity.ts";
import { scaleFits } from "./scales.ts";

/** The arguments of a call, matched to the entry's parameters: evaluated and checked against them. */

export type Call = Extract<Expression, { kind: "call" }>;

/** An argument matched to its parameter and evaluated. */
export interface Bound {
  readonly quantity?: Quantity;
  readonly choice?: string;
  readonly given: boolean;
  readonly index: number;
  /** Said in the working when a default stands in. */
  readonly assumption?: string;
}

export function bindAll(
  call: Call,
  entry: FunctionEntry,
  matched: ReadonlyMap<Parameter, Argument>,
  context: Context,
  evaluate: Evaluate,
): Map<string, Bound> | undefined {
  const bound = new Map<string, Bound>();
  const material = namedMaterial(entry, matched, context, evaluate);
  if (material === "unknown") return undefined;
  let failed = false;
  entry.parameters.forEach((parameter, index) => {
    const argument = matched.get(parameter);
    const one =
      parameter.takes.kind === "material"
        ? { given: argument !== undefined, index }
        : argument
          ? bindGiven(call, entry, parameter, argument, index, bound, context, evaluate)
          : ((material && bindOfMaterial(parameter, index, material)) ??
            bindDefault(parameter, index, bound, context) ??
            noFigure(call, parameter, material, context));
    if (one) bound.set(parameter.name, one);
    else failed = true;
  });
  return failed ? undefined : bound;
}

/** No air is damper than damp: a trial that draws such a humidity is one that cannot be. */
export const isBeyondNature = (bound: ReadonlyMap<string, Bound>): boolean =>
  [...bound].some(([name, one]) => name.endsWith("humidity") && isNoShare(one));

const isNoShare = ({ quantity }: Bound): boolean =>
  quantity !== undefined && (quantity.si < 0 || quantity.si > 1);

function bindGiven(
  call: Call,
  entry: FunctionEntry,
  parameter: Parameter,
  argument: Argument,
  index: number,
  before: ReadonlyMap<string, Bound>,
  context: Context,
  evaluate: Evaluate,
): Bound | undefined {
  const { takes } = parameter;
  const node = argument.value;
  if (takes.kind === "choice") return bindChoice(entry, parameter, argument, index, context, evaluate);
  if (takes.kind === "material") return { given: true, index };

  const listed =
    takes.kind === "samples" &&
    call.args.length > 1 &&
    call.args.every((a) => !a.label && a.value.kind === "number");
  const value = listed ? listLiteral(call, context) : evaluate(node, context);
  if (!value) return undefined;
  if (value.kind !== "quantity") {
    return context.report({
      rule: "unit/mismatch",
      case: "not a number",
      span: node.span,
      got: describe(value),
      operator: entry.name,
    });
  }
  const like = takes.like ? before.get(takes.like)?.quantity : undefined;
  const dimension: Dimension | "any" = like ? like.dimension : takes.dimension;
  const side = asOperand({ span: node.span, quantity: value });
  if (dimension !== "any" && value.dimension !== dimension) {
    const scale: Scale = takes.kind === "quantity" && takes.scale !== "any" ? takes.scale : "plain";
    const unit =
      (takes.kind === "quantity" ? takes.unit : undefined) ??
      (like ? unitShown(like) : (describeDimension(dimension) ?? ""));
    return context.report({
      rule: "unit/mismatch",
      case: "argument",
      span: node.span,
      function: entry.name,
      parameter: parameter.name,
      got: side,
      needs: { span: node.span, dimension, scale, unit },
    });
  }
  if (takes.kind === "quantity" && !scaleFits(value.scale, takes.scale)) {
    return context.report({
      rule: "unit/scale-point",
      case: "argument",
      span: node.span,
      function: entry.name,
      parameter: parameter.name,
      got: side,
      needs: takes.scale === "any" ? "plain" : takes.scale,
    });
  }
  if (takes.kind === "quantity" && value.sampling?.column) {
    context.report({
      rule: "reading/out-of-validity",
      span: node.span,
      function: entry.name,
      says: [
        `\`${entry.name}\` takes one value for its ${parameter.name}, and this is a whole column of a series; its mean stands in.`,
      ],
      value: true,
    });
  }
  return { quantity: value, given: true, index };
}

function bindChoice(
  entry: FunctionEntry,
  parameter: Parameter,
  argument: Argument,
  index: number,
  context: Context,
  evaluate: Evaluate,
): Bound | undefined {
  const node = argument.value;
  const of = parameter.takes.kind === "choice" ? parameter.takes.of : [];
  // A bare word is taken as the choice itself unless the note defines it as words of its own.
  const value = node.kind === "name" ? namedChoice(node, of, context) : evaluate(node, context);
  const word =
    typeof value === "string" ? value : value?.kind === "text" ? value.text.trim().toLowerCase() : undefined;
  if (word !== undefined && of.includes(word)) return { choice: word, given: true, index };
  if (!value) return undefined;
  return context.report({
    rule: "note/syntax",
    span: node.span,
    message: `\`${entry.name}\` does not know this ${parameter.name}.`,
    advice: `Write one of: ${of.map((o) => `"${o}"`).join(", ")}.`,
  });
}

function namedChoice(
  node: Extract<Expression, { kind: "name" }>,
  of: readonly string[],
  context: Context,
): Result | string {
  if (of.includes(node.name.key)) return node.name.key;
  const found = context.lookup(node.name);
  return found === "missing" ? { kind: "text", text: node.name.text } : found;
}

/** The expanded uncertainty of an earlier argument as a quantity of its own; missing where it has none. */
function ownUncertainty(of: Quantity | undefined, index: number): Bound {
  const standard = of ? standardUncertainty(of.by) : 0;
  if (!of || standard === 0) return { given: false, index };
  const { dimension, scale } = of;
  const quantity: Quantity = {
    kind: "quantity",
    si: 2 * standard,
    dimension,
    scale: differenceScale(scale),
    unit: undefined,
    by: EXACT,
  };
  return { quantity, given: false, index };
}

function bindDefault(
  parameter: Parameter,
  index: number,
  before: ReadonlyMap<string, Bound>,
  context: Context,
): Bound | undefined {
  const { optional } = parameter;
  if (!optional) return undefined;
  if ("choice" in optional)
    return { choice: optional.choice, given: false, index, assumption: optional.says };
  if ("from" in optional) {
    if (optional.from === "nothing") return { given: false, index };
    if (optional.from === "uncertainty") return ownUncertainty(before.get(optional.of)?.quantity, index);
    const { quantity, says } = context.ambient();
    return { quantity, given: false, index, ...(says ? { assumption: says } : {}) };
  }
  const reading =
    optional.unit === ""
      ? ({ ok: true, unit: PLAIN_NUMBER } as const)
      : readUnit(optional.unit, context.units);
  if (!reading.ok) return { given: false, index };
  const { unit } = reading;
  const standard = (optional.tolerance * Math.abs(unit.factor)) / Math.sqrt(3);
  const source = standard > 0 ? context.assumed(optional.says, standard) : undefined;
  const off = source && context.trial ? context.trial.draw(source) : 0;
  const by: Sensitivities = source && !context.trial ? new Map([[source, 1]]) : EXACT;
  const quantity: Quantity = {
    kind: "quantity",
    si: toSI(optional.value, unit) + off,
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by,
  };
  return { quantity, given: false, index, assumption: optional.says };
}

/** Numbers written straight into the call; one unit at the end serves them all. */
function listLiteral(call: Call, context: Context): Quantity | undefined {
  let unit: Unit = PLAIN_NUMBER;
  const numbers: number[] = [];
  let step = 0;
  for (const argument of [...call.args].reverse()) {
    if (argument.value.kind !== "number") return undefined;
    if (argument.value.unit) {
      const reading = readUnit(argument.value.unit.text, context.units);
      if (!reading.ok) {
        return context.report({
          rule: "unit/unknown",
          span: argument.value.unit.span,
          spelling: argument.value.unit.text,
          reading,
        });
      }
      unit = reading.unit;
    }
    numbers.unshift(toSI(argument.value.number.value, unit));
    step = Math.max(step, argument.value.number.step * Math.abs(unit.factor));
  }
  const mean = numbers.reduce((sum, v) => sum + v, 0) / numbers.length;
  const scatter = typeA(numbers, mean);
  const by: Sensitivities =
    scatter > 0
      ? new Map([[{ says: "scatter of the readings", standard: scatter, normal: true }, 1]])
      : EXACT;
  const sampling = { values: numbers, resolution: step / Math.sqrt(12), shared: EXACT };
  return { kind: "quantity", si: mean, dimension: unit.dimension, scale: unit.scale, unit, by, sampling };
}
