import { describe, expect, test } from "vitest";
import { DERIVED, WITHOUT_VALUE } from "./derived-values.ts";
import { quantityOf, readSamples } from "./read-samples.ts";

const samples = readSamples();

describe.each(samples)("derived values of $name", ({ name, analysis }) => {
  const derived = analysis.values.filter((value) => value.kind === "derived");
  const checks = DERIVED[name] ?? {};
  const silent = WITHOUT_VALUE[name] ?? [];

  test("each has a check, and each check a value", () => {
    const expected = [...Object.keys(checks), ...silent].sort();
    expect(derived.map((value) => value.key).sort()).toEqual(expected);
  });

  test("those that rest on a mistake show nothing", () => {
    const shown = derived.filter((value) => value.shown === undefined).map((value) => value.key);
    expect(shown.sort()).toEqual([...silent].sort());
  });

  test.each(Object.entries(checks))("%s", (key, check) => {
    const value = derived.find((one) => one.key === key);
    const shown = value && quantityOf(value);
    expect(shown?.unit).toBe(check.unit);
    const allowed = check.absolute ?? Math.abs(check.value) * (check.relative ?? 1e-7);
    const off = Math.abs((shown?.value ?? Number.NaN) - check.value);
    expect(off, `${shown?.value} against ${check.value} (${check.source})`).toBeLessThanOrEqual(allowed);
  });
});
