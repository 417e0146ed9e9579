import { constant, type Dual, variable } from "../physics/dual.ts";
import type { FormulaFunction, Gives, Inputs, Samples } from "../physics/function.ts";
import { type Dimension, NONE, over } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import type { OwnUnits } from "../units/own-units.ts";
import type { Scale, Unit } from "../units/unit.ts";
import type { Bound } from "./call-arguments.ts";
import type { Quantity, Sensitivities, Source } from "./quantity.ts";

/** From bound arguments to a function's inputs, and from its answer back to a quantity. */

export function inputsOf(entry: FormulaFunction, bound: ReadonlyMap<string, Bound>): Inputs {
  const dual = (one: Bound | undefined): Dual | undefined =>
    one?.quantity &&
    (one.quantity.by.size > 0 || one.quantity.sampling
      ? variable(one.quantity.si, one.index)
      : constant(one.quantity.si));
  return {
    free: entry.parameters.length,
    quantity: (name) => dual(bound.get(name)) ?? constant(Number.NaN),
    maybe: (name) => dual(bound.get(name)),
    choice: (name) => bound.get(name)?.choice ?? "",
    given: (name) => bound.get(name)?.given ?? false,
    samples: (name): Samples => {
      const one = bound.get(name);
      const sampling = one?.quantity?.sampling;
      return {
        values: sampling?.values ?? (one?.quantity ? [one.quantity.si] : []),
        mean: dual(one) ?? constant(Number.NaN),
        resolution: sampling?.resolution ?? 0,
      };
    },
  };
}

/** Chain rule: each argument's sensitivities times the result's derivative by that argument. */
export function chain(
  entry: FormulaFunction,
  result: Dual,
  bound: ReadonlyMap<string, Bound>,
  scatter: { standardUncertainty: number; says: string } | undefined,
): Sensitivities {
  const by = new Map<Source, number>();
  const add = (part: Sensitivities, times: number): void => {
    for (const [source, c] of part) by.set(source, (by.get(source) ?? 0) + c * times);
  };
  for (const parameter of entry.parameters) {
    const one = bound.get(parameter.name);
    if (!one?.quantity) continue;
    if (parameter.takes.kind === "samples") {
      const carries = entry.gives.carries ?? "none";
      if (carries === "mean") add(one.quantity.by, 1);
      if (carries === "shared") add(one.quantity.sampling?.shared ?? one.quantity.by, 1);
      continue;
    }
    const partial = result.d[one.index] ?? 0;
    if (partial !== 0 && Number.isFinite(partial)) add(one.quantity.by, partial);
  }
  if (scatter && scatter.standardUncertainty > 0) {
    by.set({ says: scatter.says, standard: scatter.standardUncertainty, normal: true }, 1);
  }
  return by;
}

export function shape(
  gives: Gives,
  bound: ReadonlyMap<string, Bound>,
  own: OwnUnits | undefined,
): Pick<Quantity, "dimension" | "scale" | "unit"> {
  const argument = (name: string | undefined) => (name === undefined ? undefined : bound.get(name)?.quantity);
  const scaleOf =
    typeof gives.scale === "object"
      ? "like" in gives.scale
        ? gives.scale.like
        : gives.scale.spread
      : undefined;
  const scaled = argument(scaleOf)?.scale ?? "plain";
  const scale =
    typeof gives.scale === "string" ? gives.scale : "like" in gives.scale ? scaled : differenceScale(scaled);
  if (!("like" in gives.dimension))
    return { dimension: gives.dimension, scale, unit: ownUnit(gives, gives.dimension) };
  const like = argument(gives.dimension.like);
  const per = argument(gives.dimension.per);
  const above = like?.dimension ?? NONE;
  const dimension = per ? over(above, per.dimension) : above;
  // A spread of points is a difference, which the points' own unit cannot show.
  const keeps = per ? quotientUnit(like, per, own) : like?.scale === scale ? like.unit : undefined;
  return { dimension, scale, unit: ownUnit(gives, dimension) ?? keeps };
}

function ownUnit(gives: Gives, dimension: Dimension): Unit | undefined {
  const own = gives.unit ? readUnit(gives.unit) : undefined;
  return own?.ok && own.unit.dimension === dimension ? own.unit : undefined;
}

/** `inH2O/s` for a slope of a column in inH2O against one in s. */
function quotientUnit(
  above: Quantity | undefined,
  below: Quantity,
  own: OwnUnits | undefined,
): Unit | undefined {
  if (!above?.unit || !below.unit || below.unit.spelling.includes("/")) return undefined;
  const top = above.unit.scale === "point" ? "K" : above.unit.spelling;
  const bottom = below.unit.scale === "point" ? "K" : below.unit.spelling;
  const reading = readUnit(bottom === "" ? top : `${top || "1"}/${bottom}`, own);
  return reading.ok ? reading.unit : undefined;
}

export const differenceScale = (scale: Scale): Scale =>
  scale === "point" || scale === "absolute" ? "difference" : scale;
