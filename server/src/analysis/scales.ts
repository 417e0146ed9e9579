import { NONE, PRESSURE, TEMPERATURE } from "../units/dimension.ts";
import type { Scale } from "../units/unit.ts";
import type { ScalePointCase } from "./problem.ts";
import type { Quantity } from "./quantity.ts";

/**
 * What points and differences, gauge and absolute pressures do under arithmetic. A point on a scale can be
 * moved by a difference and compared with another point; nothing else has a meaning.
 */
export type ScaleOutcome = Scale | { readonly wrong: ScalePointCase };

const wrong = (what: ScalePointCase): ScaleOutcome => ({ wrong: what });

type Sided = Pick<Quantity, "dimension" | "scale">;

export function scaleOfSum(a: Sided, b: Sided): ScaleOutcome {
  if (a.dimension === TEMPERATURE) {
    if (a.scale === "point" && b.scale === "point") return wrong("point plus point");
    if (a.scale === "point" || b.scale === "point") return "point";
    return a.scale === "kelvin" || b.scale === "kelvin" ? "kelvin" : "difference";
  }
  if (a.dimension === PRESSURE) {
    if (a.scale === "absolute" && b.scale === "absolute") return wrong("absolute plus absolute");
    if (a.scale === "absolute" || b.scale === "absolute") return "absolute";
    return a.scale === "gauge" || b.scale === "gauge" ? "gauge" : a.scale;
  }
  return "plain";
}

export function scaleOfDifference(a: Sided, b: Sided): ScaleOutcome {
  if (a.dimension === TEMPERATURE) {
    if (a.scale === "point" && b.scale === "point") return "difference";
    if (a.scale === "point") return "point";
    if (b.scale === "point") return a.scale === "kelvin" ? "difference" : wrong("difference minus point");
    // Kelvin serves as a point or as a difference; less a difference it still serves as either.
    return a.scale === "kelvin" ? "kelvin" : "difference";
  }
  if (a.dimension === PRESSURE) {
    if (a.scale === "absolute" && b.scale === "absolute") return "difference";
    if (a.scale === "absolute") return "absolute";
    if (b.scale === "absolute") return wrong("gauge minus absolute");
    return a.scale === "gauge" || b.scale === "gauge" ? "gauge" : a.scale;
  }
  return "plain";
}

/** Products and quotients. Scaling by a plain number keeps the scale; otherwise the result is plain. */
export function scaleOfProduct(a: Sided, b: Sided, quotient: boolean): ScaleOutcome {
  if (a.scale === "point" || b.scale === "point") return wrong("point times");
  if (b.dimension === NONE) return a.scale;
  if (a.dimension === NONE && !quotient) return b.scale;
  return "plain";
}

/** Undefined when the two may be compared. */
export function wrongComparison(a: Sided, b: Sided): ScalePointCase | undefined {
  if (a.dimension === TEMPERATURE) {
    const mixed =
      (a.scale === "point" && b.scale === "difference") || (a.scale === "difference" && b.scale === "point");
    return mixed ? "point against difference" : undefined;
  }
  if (a.dimension === PRESSURE) {
    const oneAbsolute = (a.scale === "absolute") !== (b.scale === "absolute");
    const otherGauge =
      a.scale === "gauge" || b.scale === "gauge" || a.scale === "difference" || b.scale === "difference";
    return oneAbsolute && otherGauge ? "gauge against absolute" : undefined;
  }
  return undefined;
}

/** Whether a value on one scale may stand where a function wants another. */
export function scaleFits(got: Scale, wanted: Scale | "any"): boolean {
  if (wanted === "any" || got === wanted) return true;
  switch (wanted) {
    case "gauge":
      return got !== "absolute";
    case "absolute":
      return got === "plain";
    case "point":
      return got === "kelvin" || got === "plain";
    case "difference":
    case "kelvin":
      return got !== "point" && got !== "absolute";
    case "plain":
      return got !== "point";
  }
}
