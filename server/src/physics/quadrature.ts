/** Numerical integration that carries derivatives along: Gauss and Legendre's rule on dual numbers. */
import type { Dual } from "./dual.ts";
import { add, constant, mul, sub } from "./dual.ts";

const POINTS = 24;

interface Node {
  readonly at: number;
  readonly weight: number;
}

/** Nodes and weights on −1 to 1: roots of the Legendre polynomial by Newton's method. */
function legendreNodes(n: number): readonly Node[] {
  return Array.from({ length: n }, (_, i) => {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 20; step++) {
      let before = 1;
      let here = x;
      for (let k = 2; k <= n; k++) [before, here] = [here, ((2 * k - 1) * x * here - (k - 1) * before) / k];
      slope = (n * (x * here - before)) / (x * x - 1);
      const change = here / slope;
      x -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    return { at: x, weight: 2 / ((1 - x * x) * slope * slope) };
  });
}

const NODES = legendreNodes(POINTS);

/** Integral of a smooth function between two limits, both of which may carry derivatives. */
export function integrate(f: (x: Dual) => Dual, from: Dual, to: Dual): Dual {
  const half = mul(sub(to, from), 0.5);
  const middle = mul(add(from, to), 0.5);
  const total = NODES.reduce<Dual>(
    (sum, node) => add(sum, mul(f(add(middle, mul(half, node.at))), node.weight)),
    constant(0),
  );
  return mul(total, half);
}
