// For every procedure, a job of every kind: in order, failed and done again, at two places, with a new part, over
// night, with nothing found, handed over and come back; and beside each a job of that kind with a mistake. The
// expectations are written by hand from a technician's judgement (no source), not from what the checker says.
import { describe, expect, it } from "vitest";
import { findingsOf } from "./job.ts";
import { ALL } from "./whole-jobs/all.ts";

const LATE = { head: ["date: 2031-03-04"] };

for (const { procedure, ways } of ALL) {
  describe(`whole jobs of ${procedure}`, () => {
    it.each(ways)("$kind: $says", ({ job, expected }) => {
      expect(findingsOf({ procedure, ...LATE, ...job })).toEqual(expected);
    });
  });
}
