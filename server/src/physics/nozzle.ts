/**
 * Ideal gas through a hole: the isentropic nozzle (Saint-Venant and Wantzel) with its choked branch.
 *
 *     mass flow = Cd · A · p0 / √(R·T0) · ψ(x, γ),   x = (p0 − p2) / p0
 *
 * p0 and T0 are the absolute pressure and temperature upstream. ψ is without dimension. For small drops
 * ψ → √(2·x), which is the incompressible Cd·A·√(2·Δp·ρ).
 */
import type { Dual } from "./dual.ts";
import { constant, exp, expm1, log1p, mul, neg, product, sqrt } from "./dual.ts";

/** p2 / p0 below which the flow is choked: 0.528 for γ = 1.4. */
export const criticalRatio = (gamma: number): number => (2 / (gamma + 1)) ** (gamma / (gamma - 1));

/** ψ of choked flow, also known as the critical flow function: 0.6847 for γ = 1.4. */
export const criticalFlow = (gamma: number): number =>
  Math.sqrt(gamma) * (2 / (gamma + 1)) ** ((gamma + 1) / (2 * (gamma - 1)));

export const isChoked = (dropShare: number, gamma: number): boolean => 1 - dropShare <= criticalRatio(gamma);

/**
 * ψ for a drop that is this share of the absolute upstream pressure, 0 to 1.
 *
 * Written with expm1 and log1p, so that a drop of a millionth of the pressure keeps all its digits.
 * At no drop at all ψ is zero and its slope infinite; the slope is left out there.
 */
export function nozzleFunction(dropShare: Dual, gamma: number): Dual {
  if (dropShare.v <= 0) return constant(0);
  if (isChoked(dropShare.v, gamma)) return constant(criticalFlow(gamma));
  const logRatio = log1p(neg(dropShare));
  const expansion = neg(expm1(mul(logRatio, (gamma - 1) / gamma)));
  return sqrt(product((2 * gamma) / (gamma - 1), exp(mul(logRatio, 2 / gamma)), expansion));
}
