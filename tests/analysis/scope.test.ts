// Which names mean what in a note, and in which order they are worked out. Source: the project's own format,
// grammar/FORMAT.md.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyzeText, readings } from "../support/analyze-text.ts";
import { rulesOf, shownOf } from "../support/values.ts";

const note = (...blocks: string[]): string =>
  `---\njob: test\n---\n\n${blocks.map((block) => `\`\`\`${block}\n\`\`\`\n`).join("\n")}`;

describe("names", () => {
  test("are one space across the blocks of a note, and may be used before they are defined", () => {
    const text = note("readings\ntwice = 2 * count", "readings\ncount: 21");
    expect(shownOf(text).twice).toBe("42");
    expect(rulesOf(text)).toEqual([]);
  });

  test("are compared without regard to case and to how wide their blanks are", () => {
    const text = note("readings\nWheel Speed  2: 21", "readings\ntwice = 2 * wheel\tSPEED 2");
    expect(shownOf(text).twice).toBe("42");
  });

  test("may be called like a unit or a function", () => {
    const text = readings("t: 3\nmin: 4\ndew point: 5\nmean = t + min * dew point");
    expect(shownOf(text).mean).toBe("23");
    expect(rulesOf(text)).toEqual([]);
  });

  test("of a labelled block stand under its label, and mean its own first inside it", () => {
    const text = note(
      "readings\ncount: 1\nother: 10\nsum = count + retest count + other",
      "readings Retest\ncount: 2\nsum = count + other",
    );
    const shown = shownOf(text);
    expect(shown.sum).toBe("13");
    expect(shown["Retest sum"]).toBe("12");
    expect(shown["Retest count"]).toBe("2");
    expect(rulesOf(text)).toEqual([]);
  });

  test("that stand twice are one finding each, and the first counts", () => {
    const text = note("readings\ncount: 1\ncount: 2\ntwice = 2 * count", "readings retest\ncount: 3");
    expect(rulesOf(text)).toEqual(["reading/duplicate"]);
    expect(shownOf(text).twice).toBe("2");
  });

  test("that nothing defines are one finding, and what rests on them stays silent", () => {
    const text = readings("a = bcount + 1\nb = a + 1\nc = b * 2\ncount: 5");
    const { findings } = analyzeText(text);
    expect(findings.map((finding) => finding.rule)).toEqual(["reading/undefined"]);
    expect(findings[0]?.fixes[0]?.edits[0]?.text).toBe("count");
  });
});

describe("columns of a series", () => {
  const series = "series decay\nt [s], p [inH2O], T [degC]\n0, 12.0, 19\n60, 11.0, 20\n120, 10.0, 21";

  test("stand under its name; case tells two columns of one series apart, and only there", () => {
    const text = note(
      series,
      "readings\nmiddle = mean(decay t)\nwarmth = mean(decay T)\npressure = mean(DECAY P)\nlast = spread(decay T)",
    );
    const shown = shownOf(text);
    expect(shown.middle).toMatch(/^60 s/);
    expect(shown.warmth).toMatch(/^20\.0* degC/);
    expect(shown.pressure).toMatch(/^11\.0* inH2O/);
    expect(rulesOf(text)).toEqual([]);
  });

  test.each([
    ["series Decay\nT [degC], t [s]\n19, 0\n20, 60\n21, 120", "DECAY"],
    ["series decay\nt [s], T [degC]\n0, 19\n60, 20\n120, 21", "Decay"],
  ])(
    "are told apart in whichever order they stand and however their series is written: %j",
    (block, called) => {
      const text = note(
        block,
        `readings\nmiddle = mean(${called} t)\nwarmth = mean(${called} T)`,
        "readings decay\nhere = mean(t)\nheat = mean(T)",
      );
      const shown = shownOf(text);
      for (const name of ["middle", "decay here"]) expect(shown[name]).toMatch(/^60 s/);
      for (const name of ["warmth", "decay heat"]) expect(shown[name]).toMatch(/^20\.0* degC/);
      expect(rulesOf(text)).toEqual([]);
    },
  );

  test("with the same name, letter for letter, are a repetition", () => {
    expect(rulesOf(note("series decay\nt [s], t [s]\n0, 1"))).toEqual(["reading/duplicate"]);
    expect(rulesOf(note("series decay\nt [s], T [degC], T [degC]\n0, 1, 2"))).toEqual(["reading/duplicate"]);
  });

  test("are left alone by a broken row: every column keeps the rows that are whole", () => {
    const text = note(
      "series log\nt [s], p [psi]\n0, 1\n1, x\n2, 3",
      "readings\nm = mean(log p)\nn = mean(log t)",
    );
    expect(rulesOf(text)).toEqual(["note/syntax"]);
    expect(shownOf(text).m).toMatch(/^2 psi|^2\.\d+ psi/);
    expect(shownOf(text).n).toMatch(/^1 s|^1\.\d+ s/);
  });
});

describe("circles", () => {
  const circular = (text: string) =>
    analyzeText(text).findings.filter((finding) => finding.rule === "reading/circular");

  test("are shown whole, once, from their first line; what hangs on them stays silent", () => {
    const text = readings("a = b + 1\nb = c + 1\nc = a + 1\nd = a * 2\ne: 5\nf = e * 2");
    const found = circular(text);
    expect(found).toHaveLength(1);
    expect(found[0]?.message).toContain("`a` → `b` → `c` → `a`");
    expect(found[0]?.related).toHaveLength(2);
    expect(rulesOf(text)).toEqual(["reading/circular"]);
    expect(shownOf(text).f).toBe("10");
  });

  test("of one line say so", () => {
    expect(circular(readings("a = a + 1"))[0]?.message).toBe("`a` is defined by itself.");
  });

  test("that are apart are told apart", () => {
    expect(circular(readings("a = b\nb = a\nc = d\nd = c"))).toHaveLength(2);
  });

  test("through a label are circles too", () => {
    const text = note("readings\na = retest a", "readings retest\na = b\nb = a");
    expect(circular(text)).toHaveLength(1);
    expect(circular(note("readings\na: 1", "readings retest\na = a + 1"))).toHaveLength(1);
  });

  test("a chain of ten thousand names is no circle and exhausts nothing", () => {
    const lines = Array.from({ length: 10_000 }, (_, i) => `n${i} = n${i + 1} + 1`);
    const text = readings(`${lines.join("\n")}\nn10000: 0`);
    expect(rulesOf(text)).toEqual([]);
    expect(shownOf(text).n0).toBe("10000");
  });
});

describe("a line that cannot be read", () => {
  test.each([
    ["a: 0,9 psi", "unit/decimal-comma"],
    ["a: 5 pssi", "unit/unknown"],
    ["a: 5 psi 6", "note/syntax"],
    ["a = 3 +", "note/syntax"],
    ["a", "note/syntax"],
    ["a = nothing here", "reading/undefined"],
    ["a = 5 psi + 3 m", "unit/mismatch"],
    ["a = 5 degC + 3 degC", "unit/scale-point"],
    ["a [N] = 5 psi", "unit/mismatch"],
    ["a = 5 / 0", "reading/out-of-validity"],
  ])("%s is one finding; its dependents are silent, limits among them", (line, rule) => {
    const text = note(`readings\n${line}\nb = a * 2\nc = b + a`, "limits\na <= 1 psi\nc < b  source: here");
    expect(rulesOf(text)).toEqual([rule]);
  });

  test.each([
    ["a = wire drop(10 A, 5 m, 2.5 mm2)", "needs a plain number for its gauge and gets an area (mm2)"],
    ["p: 5 psi\na = mean(p, 6 psi)", "`mean` takes one value and gets more"],
    ["a = force on(5 psi, 6 cm2, 7)", "`force on` takes 2 values and gets more"],
  ])("%s says what a function takes", (line, says) => {
    expect(analyzeText(readings(line)).findings[0]?.message).toContain(says);
  });

  test("the order of lines changes no value", () => {
    const lines = ["a: 2", "b = a + 1", "c = b * a", "d = c - b", "e = f(", "g = e + d", "h = d + a"];
    const expected = shownOf(readings(lines.join("\n")));
    fc.assert(
      fc.property(fc.shuffledSubarray(lines, { minLength: lines.length }), (shuffled) => {
        expect(shownOf(readings(shuffled.join("\n")))).toEqual(expected);
      }),
    );
  });
});
