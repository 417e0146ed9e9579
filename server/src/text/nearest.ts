/**
 * The candidates that a mistyped word most likely stands for, best first, at most `limit` of them.
 *
 * Distance counts insertions, deletions, replacements and swaps of neighbours; letter case is free, so a
 * slip of the Shift key ranks first and leaves no other offer beside it. The cap grows with the word: none under three letters (only the case
 * may differ), one up to five letters, two up to eight, three beyond. Ties fall to the candidate that
 * keeps more letters in their case, then to the alphabet.
 */
export function nearest(word: string, candidates: Iterable<string>, limit = 3): readonly string[] {
  const cap = distanceCap(word.length);
  const wanted = word.toLowerCase();
  const found: { candidate: string; distance: number; otherCase: number }[] = [];
  const seen = new Set<string>();
  for (const candidate of candidates) {
    if (candidate === word || seen.has(candidate)) continue;
    seen.add(candidate);
    if (Math.abs(candidate.length - word.length) > cap) continue;
    const distance = editDistance(wanted, candidate.toLowerCase(), cap);
    if (distance > cap) continue;
    found.push({ candidate, distance, otherCase: differingCase(word, candidate) });
  }
  found.sort(
    (a, b) =>
      a.distance - b.distance ||
      a.otherCase - b.otherCase ||
      (a.candidate < b.candidate ? -1 : a.candidate > b.candidate ? 1 : 0),
  );
  const best = found[0]?.distance === 0 ? found.filter((f) => f.distance === 0) : found;
  return best.slice(0, limit).map((f) => f.candidate);
}

function distanceCap(length: number): number {
  if (length < 3) return 0;
  if (length < 6) return 1;
  return length < 9 ? 2 : 3;
}

/** Characters that differ by case alone, place by place. */
function differingCase(a: string, b: string): number {
  let count = 0;
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const x = a.charAt(i);
    const y = b.charAt(i);
    if (x !== y && x.toLowerCase() === y.toLowerCase()) count++;
  }
  return count;
}

/**
 * Optimal string alignment distance, cut short once it is sure to be above `cap` (any value above `cap`
 * may then be given back).
 */
export function editDistance(a: string, b: string, cap = Number.POSITIVE_INFINITY): number {
  if (a === b) return 0;
  if (Math.abs(a.length - b.length) > cap) return cap + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const replaced = at(last, j - 1) + (a.charCodeAt(i - 1) === b.charCodeAt(j - 1) ? 0 : 1);
      let distance = Math.min(replaced, at(last, j) + 1, at(row, j - 1) + 1);
      const swapped =
        i > 1 &&
        j > 1 &&
        a.charCodeAt(i - 1) === b.charCodeAt(j - 2) &&
        a.charCodeAt(i - 2) === b.charCodeAt(j - 1);
      if (swapped) distance = Math.min(distance, at(beforeLast, j - 2) + 1);
      row.push(distance);
      least = Math.min(least, distance);
    }
    // A swap reaches back two rows, so both must be past the cap.
    if (least > cap && Math.min(...last) > cap) return cap + 1;
    beforeLast = last;
    last = row;
  }
  return at(last, b.length);
}

const at = (row: readonly number[], index: number): number => row[index] ?? Number.POSITIVE_INFINITY;
