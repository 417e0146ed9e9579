import type { Move, Problem } from "./strips.ts";
import { stubbornMoves } from "./stubborn.ts";

/** How far the estimate is trusted, in turn. With a weight of 1 the run is certain to be the cheapest. */
const WEIGHTS = [1, 1.5, 4] as const;
/** States looked at with each weight: fewer where each of them takes longer. */
const MOST_STATES = 2500;
const MOST_WORK = 150_000;

/**
 * The cheapest run of moves from the start to the goal. Where that would take too long, in a job with much that
 * went wrong, a run that is short, if perhaps not the shortest. Undefined where there is none.
 */
export function cheapestRun(problem: Problem): readonly Move[] | undefined {
  const limit = Math.min(MOST_STATES, Math.ceil(MOST_WORK / Math.max(1, problem.moves.length)));
  for (const weight of WEIGHTS) {
    const found = search(problem, weight, limit);
    if (found !== "too long") return found && withoutDetours(found, problem);
  }
  return undefined;
}

/** The run without moves that it does as well without. */
export function withoutDetours(run: readonly Move[], problem: Problem): readonly Move[] {
  let kept = run;
  for (let i = 0; i < kept.length; ) {
    const shorter = replay([...kept.slice(0, i), ...kept.slice(i + 1)], problem);
    if (shorter) kept = shorter;
    else i++;
  }
  return kept;
}

/** The run with the place named wherever that comes to the same: a line that says where says more. */
export function withPlaces(run: readonly Move[], problem: Problem): readonly Move[] {
  let kept = run;
  run.forEach((move, i) => {
    if (move.place !== undefined) return;
    for (const other of problem.moves) {
      if (other.step !== move.step || other.place === undefined) continue;
      const named = kept.map((one, j) => (i === j ? other : one));
      if (replay(named, problem)?.length !== named.length) continue;
      kept = named;
      return;
    }
  });
  return kept;
}

/** The moves of a list that can be done in turn, if they still reach the goal. */
function replay(list: readonly Move[], problem: Problem): readonly Move[] | undefined {
  const state = new Uint8Array(problem.facts);
  for (const fact of problem.start) state[fact] = 1;
  const done: Move[] = [];
  const canDo = (move: Move) => move.needs.every((fact) => state[fact] === 1);
  for (const move of list) {
    if (!canDo(move)) continue;
    for (const fact of move.removes) state[fact] = 0;
    for (const fact of move.adds) state[fact] = 1;
    done.push(move);
  }
  return problem.moves.some((move) => !move.step && canDo(move)) ? done : undefined;
}

type Found = readonly Move[] | undefined | "too long";

/**
 * A* with the landmark-cut estimate (M. Helmert and C. Domshlak, "Landmarks, critical paths and abstractions:
 * what's the difference anyway?", ICAPS 2009), which never overrates; with the weight 1 the first run found is a
 * cheapest one.
 */
function search(problem: Problem, weight: number, limit: number): Found {
  const estimate = estimator(problem);
  const movesFrom = stubbornMoves(problem);
  const open = new Heap();
  const best = new Map<string, number>();
  const estimates = new Map<string, number>();
  const start = new Uint8Array(problem.facts);
  for (const fact of problem.start) start[fact] = 1;
  open.push({ state: start, key: keyOf(start), cost: 0, total: 0, move: undefined, parent: undefined });
  best.set(keyOf(start), 0);
  for (let looked = 0; looked < limit; ) {
    const node = open.pop();
    if (!node) return undefined;
    if ((best.get(node.key) ?? 0) < node.cost) continue;
    if (node.state[problem.goal] === 1) return runTo(node);
    let rest = estimates.get(node.key);
    if (rest === undefined) {
      looked++;
      rest = estimate(node.state);
      estimates.set(node.key, rest);
    }
    if (rest === Number.POSITIVE_INFINITY) continue;
    // A child starts with its parent's estimate; once its own is known it takes its turn by that.
    const total = node.cost + weight * rest;
    if (total > node.total) {
      open.push({ ...node, total });
      continue;
    }
    for (const move of movesFrom(node.state)) {
      const state = node.state.slice();
      for (const fact of move.removes) state[fact] = 0;
      for (const fact of move.adds) state[fact] = 1;
      const key = keyOf(state);
      const cost = node.cost + move.cost;
      if ((best.get(key) ?? Number.POSITIVE_INFINITY) <= cost) continue;
      best.set(key, cost);
      const estimated = weight === 1 ? Math.max(node.total, cost) : node.total;
      open.push({ state, key, cost, total: estimated, move, parent: node });
    }
  }
  return "too long";
}

interface Node {
  readonly state: Uint8Array;
  readonly key: string;
  readonly cost: number;
  readonly total: number;
  readonly move: Move | undefined;
  readonly parent: Node | undefined;
}

function runTo(last: Node): readonly Move[] {
  const run: Move[] = [];
  for (let node: Node | undefined = last; node; node = node.parent) {
    if (node.move?.step) run.push(node.move);
  }
  return run.reverse();
}

const keyOf = (state: Uint8Array): string => String.fromCharCode(...state);

/** Nodes by total cost; of equal ones the one that has come furthest, and of these the earliest. */
class Heap {
  readonly #nodes: { readonly node: Node; readonly order: number }[] = [];
  #count = 0;

  push(node: Node): void {
    const nodes = this.#nodes;
    nodes.push({ node, order: this.#count++ });
    for (let i = nodes.length - 1; i > 0; ) {
      const up = (i - 1) >> 1;
      if (!this.#before(i, up)) break;
      this.#swap(i, up);
      i = up;
    }
  }

  pop(): Node | undefined {
    const nodes = this.#nodes;
    const first = nodes[0];
    const last = nodes.pop();
    if (!first || !last || nodes.length === 0) return first?.node;
    nodes[0] = last;
    for (let i = 0; ; ) {
      const left = 2 * i + 1;
      const right = left + 1;
      let least = i;
      if (left < nodes.length && this.#before(left, least)) least = left;
      if (right < nodes.length && this.#before(right, least)) least = right;
      if (least === i) break;
      this.#swap(i, least);
      i = least;
    }
    return first.node;
  }

  #before(i: number, j: number): boolean {
    const a = this.#nodes[i];
    const b = this.#nodes[j];
    if (!a || !b) return false;
    if (a.node.total !== b.node.total) return a.node.total < b.node.total;
    if (a.node.cost !== b.node.cost) return a.node.cost > b.node.cost;
    return a.order < b.order;
  }

  #swap(i: number, j: number): void {
    const a = this.#nodes[i];
    const b = this.#nodes[j];
    if (a && b) {
      this.#nodes[i] = b;
      this.#nodes[j] = a;
    }
  }
}

/** The landmark-cut estimate of a problem's states. */
function estimator(problem: Problem): (state: Uint8Array) => number {
  const { facts, goal } = problem;
  // A move that needs nothing hangs on a fact that always holds.
  const always = facts;
  const moves = problem.moves.map((move) => ({
    needs: move.needs.length > 0 ? move.needs : [always],
    adds: move.adds,
    cost: move.cost,
  }));
  const costs = new Float64Array(moves.length);
  const reach = new Float64Array(facts + 1);
  const support = new Int32Array(moves.length);
  const zone = new Uint8Array(facts + 1);
  const before = new Uint8Array(facts + 1);

  /** The cost of each fact by its dearest need (h-max), and each move's dearest need. */
  const relax = (state: Uint8Array): void => {
    reach.fill(Number.POSITIVE_INFINITY);
    for (let fact = 0; fact < facts; fact++) if (state[fact] === 1) reach[fact] = 0;
    reach[always] = 0;
    for (let changed = true; changed; ) {
      changed = false;
      for (let i = 0; i < moves.length; i++) {
        const move = moves[i];
        if (!move) continue;
        let dearest = -1;
        let chosen = always;
        for (const fact of move.needs) {
          const cost = reach[fact] ?? Number.POSITIVE_INFINITY;
          if (cost > dearest) {
            dearest = cost;
            chosen = fact;
          }
        }
        support[i] = chosen;
        if (dearest === Number.POSITIVE_INFINITY) continue;
        const reached = dearest + (costs[i] ?? 0);
        for (const fact of move.adds) {
          if (reached < (reach[fact] ?? 0)) {
            reach[fact] = reached;
            changed = true;
          }
        }
      }
    }
  };

  /** Facts from which the goal can be had for nothing. */
  const findZone = (): void => {
    zone.fill(0);
    zone[goal] = 1;
    for (let changed = true; changed; ) {
      changed = false;
      for (let i = 0; i < moves.length; i++) {
        const from = support[i] ?? always;
        if (costs[i] !== 0 || zone[from] === 1 || reach[from] === Number.POSITIVE_INFINITY) continue;
        if (moves[i]?.adds.some((fact) => zone[fact] === 1)) {
          zone[from] = 1;
          changed = true;
        }
      }
    }
  };

  /** Moves that lead from what can be reached before the zone into the zone. */
  const findCut = (state: Uint8Array): number[] => {
    before.fill(0);
    for (let fact = 0; fact < facts; fact++) if (state[fact] === 1 && zone[fact] === 0) before[fact] = 1;
    before[always] = 1;
    const cut = new Set<number>();
    for (let changed = true; changed; ) {
      changed = false;
      for (let i = 0; i < moves.length; i++) {
        const from = support[i] ?? always;
        if (before[from] !== 1 || reach[from] === Number.POSITIVE_INFINITY || cut.has(i)) continue;
        const adds = moves[i]?.adds ?? [];
        if (adds.some((fact) => zone[fact] === 1)) {
          cut.add(i);
          changed = true;
          continue;
        }
        for (const fact of adds) {
          if (before[fact] === 1) continue;
          before[fact] = 1;
          changed = true;
        }
      }
    }
    return [...cut];
  };

  return (state) => {
    for (let i = 0; i < moves.length; i++) costs[i] = moves[i]?.cost ?? 0;
    let estimate = 0;
    for (;;) {
      relax(state);
      const rest = reach[goal] ?? 0;
      if (rest === Number.POSITIVE_INFINITY) return rest;
      if (rest === 0) return estimate;
      findZone();
      const cut = findCut(state);
      let least = Number.POSITIVE_INFINITY;
      for (const i of cut) least = Math.min(least, costs[i] ?? 0);
      if (cut.length === 0 || !(least > 0) || least === Number.POSITIVE_INFINITY) return estimate;
      estimate += least;
      for (const i of cut) costs[i] = (costs[i] ?? 0) - least;
    }
  };
}
