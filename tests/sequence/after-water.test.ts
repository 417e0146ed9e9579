// A leak that is looked for while the lamp is still wet from its test. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { findingsOf } from "./job.ts";

const found = (procedure: string, ...steps: readonly string[]) =>
  findingsOf({ procedure, status: "open", head: ["date: 2031-03-04"], steps }).filter((one) =>
    /sequence\/(needs|no-outcome).*(locate|water test)/.test(one),
  );

describe("`locate` right after a water test", () => {
  it("asks for the test's outcome alone", () => {
    expect(found("lamp-moisture", "09:00  water test: 5 min", "09:10  locate [seam]: found")).toEqual([
      "warning sequence/no-outcome: water test",
    ]);
  });

  it.each(["lamp-moisture", "cabin-water-leak"])("is in order in %s where the test failed", (procedure) => {
    expect(found(procedure, "09:00  water test: fail", "09:10  locate [seam]: found")).toEqual([]);
  });

  it("is a guess on another day, or with something between", () => {
    const guess = ["error sequence/needs: locate [seam]"];
    expect(
      found("lamp-moisture", "09:00  water test: fail", "2031-03-05", "09:10  locate [seam]: found"),
    ).toEqual(guess);
    expect(
      found("lamp-moisture", "09:00  water test: fail", "09:05  drain", "09:10  locate [seam]: found"),
    ).toEqual(guess);
  });
});
