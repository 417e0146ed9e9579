import type { Quantity } from "../analysis/quantity.ts";
import { type Base, storedValue } from "./base.ts";
import type { NoteRecord } from "./record.ts";
import type { WordHit, WordIndex } from "./word-index.ts";

/** An earlier note that is like the one asked about. */
export interface Similar {
  readonly note: number;
  /** From 0 to 1. */
  readonly likeness: number;
  /** What the two have in common, the weightiest first. */
  readonly because: readonly string[];
}

/** How much each kind of likeness counts; together 1. What the customer says is the best lead to the cause. */
const COUNTS = { complaint: 0.4, subject: 0.25, procedure: 0.2, values: 0.15 };
const MOST_WORDS_SAID = 6;

/** Ranks the notes of a base by how like they are to one that need not be among them. */
export function findSimilar(asked: NoteRecord, base: Base, index: WordIndex, most: number): Similar[] {
  const work = rankSimilar(asked, base, index, most);
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/** Notes that are looked at before others are let in. */
const AT_ONCE = 50;

/** The same in pieces, for a caller that has to let others in. */
export function* rankSimilar(
  asked: NoteRecord,
  base: Base,
  index: WordIndex,
  most: number,
): Generator<void, Similar[]> {
  const complaint = shares(
    index.search(textIn(asked, "complaint"), { parts: ["complaint", "cause", "title", "rest"] }),
  );
  yield;
  const subject = shares(
    index.search(textIn(asked, "subject", "title"), {
      parts: ["subject", "place", "cause", "title", "rest"],
    }),
  );
  const values = comparable(asked, base);
  const found: Similar[] = [];
  for (const [i, note] of base.notes.entries()) {
    if (i % AT_ONCE === 0) yield;
    if (sameNote(note, asked)) continue;
    const reasons: [weight: number, says: string][] = [];
    const words = (kind: "complaint" | "subject", hit: Share | undefined): void => {
      if (hit === undefined) return;
      reasons.push([COUNTS[kind] * hit.share, `${kind}: ${hit.words.join(", ")}`]);
    };
    words("complaint", complaint.get(i));
    words("subject", subject.get(i));
    const { procedure } = asked.fields;
    if (typeof procedure === "string" && note.fields.procedure === procedure)
      reasons.push([COUNTS.procedure, `the same procedure, ${procedure}`]);
    const near = likeValues(values, i);
    if (near) reasons.push([COUNTS.values * near.share, near.says]);
    const likeness = reasons.reduce((sum, [weight]) => sum + weight, 0);
    if (likeness < LEAST) continue;
    reasons.sort(([a], [b]) => b - a);
    found.push({ note: i, likeness, because: reasons.map(([, says]) => says) });
  }
  return found.sort((a, b) => b.likeness - a.likeness || a.note - b.note).slice(0, most);
}

/** Less than this is chance. */
const LEAST = 0.1;

const sameNote = (one: NoteRecord, other: NoteRecord): boolean =>
  one.path === other.path || (one.fields.job !== undefined && one.fields.job === other.fields.job);

const textIn = (note: NoteRecord, ...fields: readonly string[]): string =>
  fields.flatMap((field) => note.fields[field] ?? []).join(" ");

interface Share {
  readonly share: number;
  readonly words: readonly string[];
}

/** Scores as shares of the best one. */
function shares(hits: readonly WordHit[]): Map<number, Share> {
  const best = hits[0]?.score ?? 1;
  return new Map(
    hits.map(({ note, score, words }) => [
      note,
      { share: score / best, words: words.slice(0, MOST_WORDS_SAID) },
    ]),
  );
}

/** A reading that has a ratio to others, with the readings of that name by the number of their note. */
interface Comparable {
  readonly name: string;
  readonly value: Quantity;
  readonly others: ReturnType<Base["named"]>;
}

/** A point on a temperature scale has no ratio to another, so such readings are left out. */
function comparable(asked: NoteRecord, base: Base): Comparable[] {
  return asked.values.flatMap((record) => {
    const value = storedValue(record);
    if (value?.kind !== "quantity" || value.scale === "point" || !(value.si > 0)) return [];
    return [{ name: record.name, value, others: base.named(record.name.toLowerCase()) }];
  });
}

/**
 * How near the readings that both notes have are to each other: each counts by how far apart the two are as a
 * ratio, for a leak of 0.4 mm is as far from 0.2 mm as from 0.8 mm.
 */
function likeValues(asked: readonly Comparable[], note: number): { share: number; says: string } | undefined {
  let sum = 0;
  const near: string[] = [];
  for (const { name, value: a, others } of asked) {
    const match = others?.get(note)?.[0]?.record;
    const b = match && storedValue(match);
    if (b?.kind !== "quantity" || b.dimension !== a.dimension || !(b.si > 0)) continue;
    const likeness = Math.exp(-Math.abs(Math.log(a.si / b.si)) / Math.LN2);
    sum += likeness;
    if (likeness > 0.5) near.push(`${name} ${match?.value} ${match?.unit ?? ""}`.trim());
  }
  if (asked.length === 0 || sum === 0) return undefined;
  const said = near.slice(0, 3).join(", ");
  return {
    share: sum / asked.length,
    says: said === "" ? "some of the same readings" : `near in value: ${said}`,
  };
}
