import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findByCondition, findByWords } from "../../server/src/base/ask.ts";
import { Base } from "../../server/src/base/base.ts";
import { readCondition } from "../../server/src/base/condition.ts";
import { LiveBase } from "../../server/src/base/live-base.ts";
import type { NoteRecord } from "../../server/src/base/record.ts";
import { WordIndex } from "../../server/src/base/word-index.ts";
import { earlierJobs } from "./earlier-jobs.ts";
import { recordOf } from "./records.ts";

const records = earlierJobs.slice(0, 24).map(recordOf);

function toEnd<T>(work: Generator<void, T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/** What a base answers that was made afresh from the same notes. */
function afresh(notes: readonly NoteRecord[]): { met: string[]; words: string[]; names: string[] } {
  const base = new Base(notes);
  const reading = readCondition("leak size > 0.3 mm", base);
  return {
    met: notes
      .flatMap(({ path }, i) => (reading.ok && reading.condition.meets(i) !== undefined ? [path] : []))
      .sort(),
    words: new WordIndex(notes)
      .search("lens water", { all: false })
      .map(({ note }) => notes[note]?.path ?? "")
      .sort(),
    names: [...new Set(base.names())].sort(),
  };
}

function alive(live: LiveBase): ReturnType<typeof afresh> {
  const { notes } = live.base;
  const reading = readCondition("leak size > 0.3 mm", live.base);
  const found = reading.ok ? toEnd(findByCondition(live, reading.condition)) : [];
  toEnd(live.takeUpWords());
  return {
    met: found.map(({ number }) => notes[number]?.path ?? "").sort(),
    words: live.words
      .search("lens water", { all: false })
      .map(({ note }) => notes[note]?.path ?? "")
      .sort(),
    names: [...new Set(live.base.names())].sort(),
  };
}

const change = fc.record({
  key: fc.integer({ min: 0, max: 9 }),
  note: fc.option(fc.integer({ min: 0, max: records.length - 1 })),
  ask: fc.boolean(),
});

describe("a base that is kept right", () => {
  it("answers like one made afresh, whatever came, changed and went, and whenever it was asked", () => {
    fc.assert(
      fc.property(fc.array(change, { maxLength: 40 }), (changes) => {
        const live = new LiveBase();
        const kept = new Map<string, NoteRecord>();
        for (const { key, note, ask } of changes) {
          const record = note === null ? undefined : records[note];
          // Two notes may hold the same; their paths still differ.
          const named = record && { ...record, path: `${key}.md` };
          if (named) {
            live.set(String(key), named);
            kept.set(String(key), named);
          } else {
            live.delete(String(key));
            kept.delete(String(key));
          }
          if (ask) expect(alive(live)).toEqual(afresh([...kept.values()]));
        }
        expect(alive(live)).toEqual(afresh([...kept.values()]));
        expect(live.base.notes).toHaveLength(kept.size);
        live.base.notes.forEach((one, number) => {
          const key = live.keyOf(number) ?? "";
          expect(live.note(key)).toBe(one);
          expect(kept.get(key)).toBe(one);
        });
      }),
      { numRuns: 60 },
    );
  });

  it("lists what a condition finds by date, the latest first, and words by how well they fit", () => {
    const live = new LiveBase();
    records.forEach((record, i) => {
      live.set(String(i), record);
    });
    const reading = readCondition("has(leak size)", live.base);
    if (!reading.ok) throw new Error(reading.message);
    const days = toEnd(findByCondition(live, reading.condition)).map(
      ({ number }) => live.base.notes[number]?.day ?? "",
    );
    expect(days.length).toBeGreaterThan(3);
    expect(days).toEqual([...days].sort().reverse());
    const scores = toEnd(findByWords(live, "lens")).map(({ score = 0 }) => score);
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
  });
});
