import type { Analysis } from "../analysis/analysis.ts";
import { combine, expandedUncertainty, type Quantity } from "../analysis/quantity.ts";
import { readFormula } from "../language/formula.ts";

/** How sure the difference of two results of one note is, with what they have in common left to cancel. */
export interface JointDifference {
  /** Expanded, k = 2, SI; undefined where nothing in it is uncertain. */
  readonly uncertainty: number | undefined;
  /** Whether the two lean on a common source: an instrument's zero, a reading that both are worked out from. */
  readonly shared: boolean;
  /**
   * Instruments that both were read through and whose error the shop file does not split, in lower case. How
   * much of it cancels nobody can say, so nothing of it is taken to: the uncertainty may be too large.
   */
  readonly unsplit: readonly string[];
}

/** One result: SI, to hold against what is worked out here, and the label of its block (empty for none). */
export interface Side {
  readonly label: string;
  readonly si: number;
}

/**
 * Works a formula out under two labels of one note and takes the results from each other, source by source
 * (correlated inputs after JCGM 100:2008, clause 5.2, from memory: u² = Σ (∂a/∂x − ∂b/∂x)² u²(x)). What two
 * results share with equal weight so leaves no trace in their difference.
 *
 * @returns undefined where the note does not give these results now, so that nothing is known of them together
 */
export function jointDifference(
  analysis: Analysis,
  formula: string,
  a: Side,
  b: Side,
): JointDifference | undefined {
  const { expression } = readFormula(formula, 0, formula.length, []);
  const under = ({ label, si }: Side): Quantity | undefined => {
    const result = analysis.evaluate(expression, label);
    return result?.kind === "quantity" && near(result.si, si) ? result : undefined;
  };
  const first = under(a);
  const second = under(b);
  if (first === undefined || second === undefined || first.dimension !== second.dimension) return undefined;
  const through = (quantity: Quantity): Set<string> =>
    new Set([...quantity.by.keys()].flatMap(({ instrument }) => instrument ?? []));
  const others = through(second);
  return {
    uncertainty: expandedUncertainty({ ...first, by: combine(first.by, 1, second.by, -1) }),
    shared: [...first.by.keys()].some((source) => second.by.has(source)),
    unsplit: [...through(first)].filter((instrument) => others.has(instrument)).sort(),
  };
}

/** Equal but for the steps between a value and its unit. */
const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
