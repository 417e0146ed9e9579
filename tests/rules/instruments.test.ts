// The rules about instruments at their edges. The shop and its instruments are invented.
import { describe, expect, test } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const SHOP = `
instruments:
  P1: { measures: pressure, range: 0 to 2 psi, resolution: 0.01 psi, accuracy: 1 % of full scale, calibrated: 2030-03-04, interval: 12 months }
  P5: { measures: pressure, range: 0 to 250 psi, resolution: 1 psi, accuracy: 2 % of full scale }
  B1: { measures: pressure, range: 80 to 110 kPa(a), resolution: 0.1 kPa, accuracy: ± 0.2 kPa }
  F1: { measures: flow, range: 0 to 1 L/min, resolution: 0.01 L/min, accuracy: 2 % of full scale }
  T1: { measures: temperature, range: -40 to 150 degC, resolution: 0.1 K, accuracy: ± 0.5 K }
limits:
  - { procedure: lamp-moisture, reading: test pressure, warn above: 0.4 psi, error above: 0.5 psi }
`;

interface Options {
  readonly head?: string;
  readonly after?: string;
  readonly shop?: string;
}

function findings(lines: string, { head = "", after = "", shop = SHOP }: Options = {}) {
  const text = `---\njob: test\n${head}---\n\n\`\`\`readings\n${lines}\n\`\`\`\n${after}`;
  return analyzeText(text, { shop }).findings.filter((one) => one.rule.startsWith("instrument/"));
}

const ids = (lines: string, options: Options = {}) =>
  findings(lines, options).map((one) => `${one.severity} ${one.rule}`);

describe("instrument/unknown", () => {
  test("offers the nearest instrument of the same kind of name", () => {
    const [found] = findings("p: 0.8 psi via P2");
    expect(found?.rule).toBe("instrument/unknown");
    expect(found?.fixes.map((fix) => fix.title)).toContain("Write P1");
    expect(found?.advice).not.toContain("B1");
  });

  test("asks nothing of a note without a shop file", () => {
    const text = "---\njob: test\n---\n\n```readings\np: 0.8 psi via P2\n```\n";
    expect(analyzeText(text).findings).toEqual([]);
  });

  test("sees that an instrument measures something else, and offers those that fit", () => {
    const [found] = findings("p: 0.8 psi via F1");
    expect(found?.message).toContain("F1");
    expect(found?.fixes.map((fix) => fix.title)).toEqual(["Write P1", "Write P5"]);
  });

  test("keeps gauge and absolute pressure apart", () => {
    const [found] = findings("p: 2.0 kPa via B1");
    expect(found?.message).toContain("absolute");
    expect(ids("ambient pressure: 98.6 kPa(a) via B1")).toEqual([]);
  });

  test("takes the name in any case", () => expect(ids("p: 0.80 psi via p1")).toEqual([]));
});

describe("instrument/out-of-range", () => {
  test("holds at the end of the range and fires beyond it, in any unit", () => {
    expect(ids("p: 2.00 psi via P1")).toEqual([]);
    expect(ids("p: 13.7895 kPa via P1")).toEqual([]);
    expect(ids("p: 2.01 psi via P1")).toEqual(["error instrument/out-of-range"]);
    expect(ids("p: 13.85 kPa via P1")).toEqual(["error instrument/out-of-range"]);
  });

  test("looks at every one of several readings", () => {
    expect(ids("p: 1.90, 2.10, 1.80 psi via P1")).toEqual(["error instrument/out-of-range"]);
  });

  test("reads points on a scale as points", () => {
    expect(ids("t: 151 degC via T1")).toEqual(["error instrument/out-of-range"]);
    expect(ids("t: 300 degF via T1")).toEqual([]);
    expect(ids("t: -41 degC via T1")).toEqual(["error instrument/out-of-range"]);
  });

  test("tells of the sign where the range starts at zero", () => {
    expect(findings("p: -0.30 psi via P1")[0]?.advice).toContain("sign");
  });
});

describe("instrument/too-coarse", () => {
  const limit = (text: string): Options => ({ after: `\n\`\`\`limits\n${text}\n\`\`\`\n` });

  test("weighs the error against the limit that the reading serves", () => {
    // 0.02 psi of error against 0.3, 0.1 and 0.05 psi.
    expect(ids("p: 0.02 psi via P1", limit("p <= 0.3 psi"))).toEqual([]);
    expect(ids("p: 0.02 psi via P1", limit("p <= 0.1 psi"))).toEqual(["warning instrument/too-coarse"]);
    expect(ids("p: 0.02 psi via P1", limit("p <= 0.05 psi"))).toEqual(["error instrument/too-coarse"]);
    // Exactly a tenth is good enough.
    expect(ids("p: 0.02 psi via P1", limit("p <= 0.2 psi"))).toEqual([]);
  });

  test("takes a shop's or a procedure's limit where the note has none", () => {
    const head = "procedure: lamp-moisture\n";
    expect(ids("test pressure: 20 psi via P5", { head })).toEqual(["error instrument/too-coarse"]);
    expect(findings("test pressure: 20 psi via P5", { head })[0]?.message).toContain("0.4 psi");
  });

  test("weighs it against the value where no limit is known", () => {
    expect(ids("p: 1 psi via P5")).toEqual(["error instrument/too-coarse"]);
    expect(ids("p: 20 psi via P5")).toEqual(["warning instrument/too-coarse"]);
    expect(ids("p: 60 psi via P5")).toEqual([]);
  });

  test("leaves alone what is to show nothing, temperatures on a scale, and what says its own ±", () => {
    expect(ids("flow: 0.00 L/min via F1")).toEqual([]);
    expect(ids("flow: 0.02 L/min via F1")).toEqual([]);
    expect(ids("flow: 0.03 L/min via F1")).toEqual(["error instrument/too-coarse"]);
    expect(ids("t: 1.0 degC via T1")).toEqual([]);
    expect(ids("p: 0.10 psi ± 0.005 psi via P1")).toEqual([]);
  });

  test("names an instrument that would do", () => {
    expect(findings("p: 1 psi via P5")[0]?.advice).toContain("`P1` would do");
  });
});

describe("instrument/calibration-due", () => {
  const steps = (text: string) => `\n\`\`\`steps\n${text}\n\`\`\`\n`;

  test("goes by the front matter's date; the due day itself is in time", () => {
    expect(ids("p: 0.80 psi via P1", { head: "date: 2031-03-04\n" })).toEqual([]);
    expect(ids("p: 0.80 psi via P1", { head: "date: 2031-03-05\n" })).toEqual([
      "warning instrument/calibration-due",
    ]);
  });

  test("says nothing where no day is known", () => expect(ids("p: 0.80 psi via P1")).toEqual([]));

  test("goes by the date lines of the steps before the front matter", () => {
    const after = steps("2031-03-05\n08:00  photo: lens");
    expect(ids("p: 0.80 psi via P1", { head: "date: 2031-03-04\n", after })).toHaveLength(1);
  });

  test("knows from its time on which of several days something was read", () => {
    const after = steps(
      "2031-03-04\n08:00  photo: lens\n10:00  photo: seam\n2031-03-05\n13:00  photo: lens\n14:00  photo: seam",
    );
    expect(ids("p: 0.80 psi via P1 at 09:00", { after })).toEqual([]);
    const [late] = findings("p: 0.80 psi via P1 at 13:30", { after });
    expect(late?.message).toContain("this was read on 2031-03-05");
    const [unsure] = findings("p: 0.80 psi via P1", { after });
    expect(unsure?.message).toContain("if this was read on 2031-03-05");
  });

  test("is one finding for one instrument, with the other readings beside it", () => {
    const found = findings("p: 0.80 psi via P1\nq: 0.70 psi via P1", { head: "date: 2031-06-01\n" });
    expect(found).toHaveLength(1);
    expect(found[0]?.related).toHaveLength(1);
  });
});

describe("instrument/calibration-due with several calibrations", () => {
  const listed = (days: string): string =>
    `instruments:\n  P1: { measures: pressure, range: 0 to 2 psi, accuracy: 1 % of full scale, calibrated: ${days}, interval: 12 months }\n`;
  const due = (day: string, days: string): string[] =>
    findings("p: 0.8 psi via P1", { head: `date: ${day}\n`, shop: listed(days) }).map((one) => one.message);

  test("holds a reading against the last one before it, in whatever order they stand", () => {
    for (const days of ["[2028-02-01, 2029-02-01, 2031-02-01]", "[2031-02-01, 2028-02-01, 2029-02-01]"]) {
      expect(due("2029-12-01", days)).toEqual([]);
      expect(due("2030-02-01", days)).toEqual([]);
      expect(due("2030-06-01", days)).toEqual([
        "The calibration of `P1` was due on 2030-02-01; this was read on 2030-06-01.",
      ]);
      expect(due("2031-06-01", days)).toEqual([]);
      expect(due("2032-06-01", days)).toHaveLength(1);
    }
  });

  test("knows nothing of the time before the first", () => {
    expect(due("2027-01-01", "[2028-02-01, 2031-02-01]")).toEqual([]);
    expect(due("2027-01-01", "2028-02-01")).toEqual([]);
  });

  test("takes one day, or days with commas, as well as a list", () => {
    expect(due("2031-01-01", "2029-02-01")).toHaveLength(1);
    expect(due("2031-01-01", '"2029-02-01, 2030-02-01"')).toEqual([]);
  });
});
