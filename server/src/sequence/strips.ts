import type { Step } from "../procedures/procedure.ts";

/** A step that could be done next, as numbers of facts. */
export interface Move {
  readonly step: Step | undefined;
  readonly place: string | undefined;
  readonly needs: readonly number[];
  readonly adds: readonly number[];
  readonly removes: readonly number[];
  readonly cost: number;
}

/**
 * The search for a run of steps, as facts that hold or do not (STRIPS: each move needs, adds and removes
 * facts). What must not hold is a fact of its own. The last move costs nothing and reaches the goal.
 */
export interface Problem {
  readonly facts: number;
  readonly start: readonly number[];
  readonly goal: number;
  readonly moves: readonly Move[];
}
