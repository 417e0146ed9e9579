import type { Procedure } from "../procedures/procedure.ts";
import type { Move, Problem } from "./strips.ts";

/** Orders that are tried before the run is left as it was found. */
const TRIES = 2000;

/**
 * The same moves in an order as near to the usual one as they can be done in. Many orders are equally short;
 * the usual one is what a technician expects.
 */
export function inUsualOrder(run: readonly Move[], problem: Problem, procedure: Procedure): readonly Move[] {
  // What is left of a job is the end of the usual order; a whole job starts at its beginning.
  const whole = run.length > procedure.usual.length / 2;
  for (const from of whole ? (["start", "end"] as const) : (["end", "start"] as const)) {
    const ordered = byRank(run, ranksOf(run, procedure, from), problem);
    if (ordered) return ordered;
  }
  return run;
}

function byRank(
  run: readonly Move[],
  ranks: readonly number[],
  problem: Problem,
): readonly Move[] | undefined {
  const order = run.map((_, i) => i).sort((a, b) => (ranks[a] ?? 0) - (ranks[b] ?? 0) || a - b);
  const state = new Uint8Array(problem.facts);
  for (const fact of problem.start) state[fact] = 1;
  const goals = problem.moves.filter((move) => !move.step);
  const failed = new Set<string>();
  let tries = TRIES;

  const place = (done: Uint8Array, taken: readonly number[]): readonly number[] | undefined => {
    if (taken.length === run.length)
      return goals.some((goal) => holdsAll(goal.needs, done)) ? taken : undefined;
    const key = order.map((i) => (taken.includes(i) ? "1" : "0")).join("");
    if (failed.has(key) || tries-- <= 0) return undefined;
    for (const i of order) {
      const move = run[i];
      if (!move || taken.includes(i) || !holdsAll(move.needs, done)) continue;
      const next = done.slice();
      for (const fact of move.removes) next[fact] = 0;
      for (const fact of move.adds) next[fact] = 1;
      const found = place(next, [...taken, i]);
      if (found) return found;
    }
    // Moves of one set can leave different facts behind in another order; that is rare, and only costs order.
    failed.add(key);
    return undefined;
  };
  const found = place(state, []);
  return found?.flatMap((i) => run[i] ?? []);
}

const holdsAll = (facts: readonly number[], state: Uint8Array): boolean =>
  facts.every((fact) => state[fact] === 1);

/** Where each move has its place in the usual order, counting a repeated step from its start or its end. */
function ranksOf(
  run: readonly Move[],
  { usual, steps }: Procedure,
  from: "start" | "end",
): readonly number[] {
  const positions = new Map<string, number[]>();
  usual.forEach((name, i) => {
    const list = positions.get(name);
    if (list) list.push(i);
    else positions.set(name, [i]);
  });
  const counts = new Map<string, number>();
  const key = (move: Move) => `${move.step?.name ?? ""}\u0000${move.place ?? ""}`;
  for (const move of run) counts.set(key(move), (counts.get(key(move)) ?? 0) + 1);
  const seen = new Map<string, number>();
  return run.map((move) => {
    const name = move.step?.name ?? "";
    const nth = seen.get(key(move)) ?? 0;
    seen.set(key(move), nth + 1);
    const own = positions.get(name);
    const first = from === "start" ? 0 : (own?.length ?? 0) - (counts.get(key(move)) ?? 0);
    if (own) return own[Math.max(0, first + nth)] ?? own.at(-1) ?? 0;
    // A step that is not usual stands behind the one that the procedure lists before it.
    const listed = steps.findIndex((step) => step.name === name);
    for (let i = listed - 1; i >= 0; i--) {
      const before = positions.get(steps[i]?.name ?? "")?.at(from === "start" ? 0 : -1);
      if (before !== undefined) return before + 0.5;
    }
    return -1;
  });
}
