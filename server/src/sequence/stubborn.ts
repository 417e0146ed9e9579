import type { Move, Problem } from "./strips.ts";

/**
 * Of the moves that could be done, those that are enough to look at: moves that have nothing to do with each
 * other need not be tried in every order. These are strong stubborn sets (A. Valmari, "Stubborn sets for
 * reduced state space generation", 1989; for planning M. Wehrle and M. Helmert, "Efficient stubborn sets", ICAPS
 * 2014); they keep a cheapest run within what is looked at.
 */
export function stubbornMoves(problem: Problem): (state: Uint8Array) => readonly Move[] {
  const { moves, facts, goal } = problem;
  const makers: number[][] = Array.from({ length: facts }, () => []);
  moves.forEach((move, i) => {
    for (const fact of move.adds) makers[fact]?.push(i);
  });
  const interfering: (readonly number[] | undefined)[] = [];
  const interferingWith = (i: number): readonly number[] => {
    const known = interfering[i];
    if (known) return known;
    const move = moves[i];
    const made = moves.flatMap((other, j) => (move && i !== j && interfere(move, other) ? [j] : []));
    interfering[i] = made;
    return made;
  };

  return (state) => {
    const chosen = new Set<number>();
    const queue: number[] = [];
    const add = (i: number): void => {
      if (chosen.has(i)) return;
      chosen.add(i);
      queue.push(i);
    };
    for (const i of makers[goal] ?? []) add(i);
    for (let i = queue.pop(); i !== undefined; i = queue.pop()) {
      const lacking = moves[i]?.needs.filter((fact) => state[fact] !== 1) ?? [];
      if (lacking.length === 0) {
        for (const j of interferingWith(i)) add(j);
        continue;
      }
      // Any one will do; the one that the fewest moves can make keeps the set small.
      let fewest = lacking[0] ?? 0;
      for (const fact of lacking) {
        if ((makers[fact]?.length ?? 0) < (makers[fewest]?.length ?? 0)) fewest = fact;
      }
      for (const j of makers[fewest] ?? []) add(j);
    }
    return moves.filter((move, i) => chosen.has(i) && move.needs.every((fact) => state[fact] === 1));
  };
}

/** Whether one of two moves can undo what the other needs or makes. */
function interfere(a: Move, b: Move): boolean {
  const meets = (some: readonly number[], others: readonly number[]) =>
    some.some((fact) => others.includes(fact));
  return (
    meets(a.removes, b.needs) ||
    meets(b.removes, a.needs) ||
    meets(a.removes, b.adds) ||
    meets(b.removes, a.adds)
  );
}
