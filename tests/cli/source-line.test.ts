import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cellsOf, displayWidth, harmless } from "../../server/src/report/display-width.ts";
import { markLine, wrap } from "../../server/src/report/source-line.ts";

/** Draws the line with a mark below the words given, as it is printed. */
function draw(line: string, words: string, width = 100): string {
  const from = line.indexOf(words);
  const { source, mark, words: again } = markLine(line, from, from + words.length, width);
  return [source, mark, ...(again === "" ? [] : [again])].join("\n");
}

// Widths: Unicode UAX #11 (East Asian wide and fullwidth take two cells, marks none) and UTS #51 (emoji take
// two); what one character is: UAX #29. Each picture can be checked by eye in a terminal.
describe("the mark stands under the place", () => {
  it("in plain text", () => {
    expect(draw("flow: 0,42 L/min", "0,42")).toBe("flow: 0,42 L/min\n      ╰──╯");
    expect(draw("flow = a + b", "a")).toBe("flow = a + b\n       ╵");
    expect(draw("a = b", "= ")).toBe("a = b\n  ╰╯");
  });

  it("after tabs", () => {
    expect(draw("\tflow:\t0,42", "0,42")).toBe("    flow:   0,42\n            ╰──╯");
  });

  it("after wide characters", () => {
    expect(draw("圧力: 0,9 psi", "0,9")).toBe("圧力: 0,9 psi\n      ╰─╯");
    expect(draw("flow: 圧力 psi", "圧力")).toBe("flow: 圧力 psi\n      ╰──╯");
  });

  it("after emoji, single and joined", () => {
    expect(draw("🔧 flow: 0,42", "0,42")).toBe("🔧 flow: 0,42\n         ╰──╯");
    expect(draw("👩🏽‍🔧 flow: 0,42", "0,42")).toBe("👩🏽‍🔧 flow: 0,42\n         ╰──╯");
    expect(draw("⚠️ flow: 0,42", "0,42")).toBe("⚠️ flow: 0,42\n         ╰──╯");
  });

  it("after letters with accents written apart", () => {
    expect(draw("de\u0301bit: 0,42", "0,42")).toBe("de\u0301bit: 0,42\n       ╰──╯");
    expect(displayWidth("A\u030A")).toBe(1);
  });

  it("in text that runs from right to left, with the words said again", () => {
    const line = "לחץ: 0,9 psi";
    expect(draw(line, "לחץ")).toBe(`${line}\n╰─╯\nלחץ`);
    expect(draw(line, "0,9")).toBe(`${line}\n     ╰─╯\n0,9`);
  });

  it("at the end of a line, where something is missing", () => {
    expect(markLine("a = b +", 7, 7, 100).mark).toBe("       ╵");
    expect(markLine("", 0, 0, 100)).toEqual({ source: "", mark: "╵", words: "" });
  });

  it("in a line that is too wide, cut at both ends", () => {
    const line = `${"x ".repeat(200)}0,42 ${"y ".repeat(200)}`;
    const { source, mark } = markLine(line, 400, 404, 40);
    expect(displayWidth(source)).toBeLessThanOrEqual(40);
    expect(source.startsWith("…") && source.endsWith("…")).toBe(true);
    expect(source.slice(mark.indexOf("╰"), mark.indexOf("╯") + 1)).toBe("0,42");
  });

  it("in a line of five megabytes, at once", () => {
    const line = `${"x".repeat(2_500_000)}0,42${"y".repeat(2_500_000)}`;
    const { source, mark } = markLine(line, 2_500_000, 2_500_004, 80);
    expect(source.slice(mark.indexOf("╰"), mark.indexOf("╯") + 1)).toBe("0,42");
  });
});

describe("what is printed", () => {
  it("cannot steer the terminal", () => {
    expect(harmless("a\u001B[31mred\u0007\u202Eb\u009Bc\u007F")).toBe("a␛[31mred␇\uFFFDb\uFFFDc␡");
    expect(markLine("a\u001B[2J: 0,9", 6, 9, 80).source).toBe("a␛[2J: 0,9");
  });

  it("is broken at blanks", () => {
    expect(wrap("one two three four", 9)).toEqual(["one two", "three", "four"]);
    expect(wrap("a verylongwordindeed b", 6)).toEqual(["a", "verylongwordindeed", "b"]);
    expect(wrap("", 10)).toEqual([""]);
  });

  it("keeps every character of the line in one cell, whatever the line holds", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const cells = cellsOf(text);
        expect(cells.map(({ from, to }) => text.slice(from, to)).join("")).toBe(text);
      }),
    );
  });

  it("is never wider than asked for, and the mark never outside the line", () => {
    const arbitrary = fc.tuple(
      fc.string({ unit: "grapheme", maxLength: 200 }),
      fc.nat(200),
      fc.nat(20),
      fc.integer({ min: 20, max: 120 }),
    );
    fc.assert(
      fc.property(arbitrary, ([text, at, length, width]) => {
        const from = Math.min(at, text.length);
        const { source, mark } = markLine(text, from, Math.min(from + length, text.length), width);
        expect(displayWidth(source)).toBeLessThanOrEqual(width);
        expect(mark.length).toBeLessThanOrEqual(width + 1);
      }),
    );
  });
});
