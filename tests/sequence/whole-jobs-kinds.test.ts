// Twelve procedures and eight kinds of job: none of the ninety-six may be missing.
import { describe, expect, it } from "vitest";
import { ALL } from "./whole-jobs/all.ts";
import { KINDS, PROCEDURES } from "./whole-jobs/whole-job.ts";

describe("every procedure has every kind of job", () => {
  const cells = PROCEDURES.flatMap((procedure) => KINDS.map((kind) => ({ procedure, kind })));

  it("lists twelve procedures and eight kinds", () => {
    expect(new Set(PROCEDURES).size).toBe(12);
    expect(new Set(KINDS).size).toBe(8);
    expect(ALL.map((one) => one.procedure).sort()).toEqual([...PROCEDURES].sort());
  });

  it.each(cells)("$procedure: $kind, one in order and one with a mistake", ({ procedure, kind }) => {
    const ways = ALL.filter((one) => one.procedure === procedure)
      .flatMap((one) => one.ways)
      .filter((way) => way.kind === kind);
    const sound = ways.filter((way) => way.expected.length === 0);
    expect(sound.length).toBeGreaterThan(0);
    expect(ways.length).toBeGreaterThan(sound.length);
  });
});
