// Recorded results are rounded half to even on the decimal digits. Worked examples from
// tests/data/reference-values.json, rows M025 to M029 (NIST SP 811, B.7.1 has the rule; each row names its source).
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { referenceRows } from "../physics/reference/plan.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";

const rows = referenceRows.filter((row) => row.id >= "M025" && row.id <= "M029" && row.inputs.x);

const stale = (line: string) =>
  analyzeText(readings(line)).findings.filter((finding) => finding.rule === "reading/stale-result");

const recorded = (text: string): string => {
  const edits = [...analyzeText(text).recordResults()].reverse();
  return edits.reduce((t, { range, text: by }) => t.slice(0, range.from) + by + t.slice(range.to), text);
};

describe("rounding half to even", () => {
  test.each(rows.map((row) => [row.id, row.inputs.x?.value ?? 0, row.expected.value]))(
    "%s: %d is recorded as %d",
    (_, x, rounded) => {
      const decimals = String(rounded).split(".")[1]?.length ?? 0;
      const step = 10 ** -decimals;
      expect(stale(`x = ${x} ≈ ${rounded}`)).toEqual([]);
      for (const wrong of [Number(rounded) + step, Number(rounded) - step]) {
        const line = `x = ${x} ≈ ${wrong.toFixed(decimals)}`;
        const [finding] = stale(line);
        expect(finding?.fixes[0]?.edits[0]?.text, line).toBe(Number(rounded).toFixed(decimals));
      }
    },
  );

  test("there are such rows", () => {
    expect(rows.length).toBeGreaterThanOrEqual(4);
  });

  test.each([
    ["x = 2.5", "2"],
    ["x = 3.5", "4"],
    ["x = -2.5", "-2"],
    ["x = 0.125", "0.12"],
    ["x = 0.375", "0.38"],
    ["x = 2.675", "2.68"],
    ["x = 1.005", "1.00"],
    ["x = 0.1 + 0.2", "0.3"],
    ["x = 1e3 * 1.2345", "1.234e3"],
    ["x [Pa] = 1234 Pa", "1.2e3 Pa"],
    ["x [N] = 3 psi * 2 in2", "26.7 N"],
    ["x [degC] = 20 degC + 2.5 K", "22 degC"],
  ])("%s ≈ %s agrees", (line, result) => {
    expect(stale(`${line} ≈ ${result}`)).toEqual([]);
  });

  test("in another unit of the same kind it agrees too", () => {
    expect(stale("x [kPa] = 5 psi ≈ 5.00 psi")).toEqual([]);
    expect(stale("x [kPa] = 5 psi ≈ 5.01 psi")).toHaveLength(1);
  });

  test("in a unit of another kind, or an unknown one, it is a finding", () => {
    expect(analyzeText(readings("x = 5 psi ≈ 5 N")).findings).toHaveLength(1);
    expect(analyzeText(readings("x = 5 psi ≈ 5 pssi")).findings).toHaveLength(1);
  });
});

describe("recording all results", () => {
  const text = readings(
    "p: 0.80 psi ± 0.02 psi\narea: 310 cm2 ± 5 cm2\nforce [N] = p * area\nrate [1/min] = 3 / 2 min\nwet = p > 1 psi\nratio = force / (2 N)  # a remark\nsmall [m3/s] = 3e-12 m3/s * 2\ntemperature [degC] = 20 degC + 2.55 K",
  );

  test("adds them once, and then finds nothing to do", () => {
    const once = recorded(text);
    expect(once).toMatch(/force \[N\] = p \* area {2}≈ 17\d N/);
    expect(analyzeText(once).findings).toEqual([]);
    expect(recorded(once)).toBe(once);
  });

  test("mends stale ones and keeps their unit", () => {
    expect(recorded(readings("x [kPa] = 5 psi ≈ 4.8 psi"))).toBe(readings("x [kPa] = 5 psi ≈ 5.0 psi"));
  });

  test("is idempotent for whatever number comes out", () => {
    const units = ["", " psi", " degC", " m3/s", " A.h", " %", " 1/min", " kPa(a)", " fl oz", " delta degC"];
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.constantFrom(...units),
        fc.option(fc.double({ min: 1e-6, max: 1e3, noNaN: true })),
        (value, unit, tolerance) => {
          const size = `${Math.abs(value)}${unit}`;
          const written = `${value < 0 ? "-" : ""}${size}`;
          const line = tolerance === null ? `x = ${written}` : `a: ${written} ± ${tolerance}\nx = a`;
          const once = recorded(readings(line));
          expect(analyzeText(once).findings.filter((f) => f.rule !== "reading/implausible")).toEqual([]);
          expect(recorded(once)).toBe(once);
        },
      ),
      { numRuns: 2000 },
    );
  });
});
