// Units as they stand behind a number. The spellings come from the project's own table of units, which is
// checked against UCUM and GNU units elsewhere; what a line makes of them is the project's own format.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readReadingsLine } from "../../server/src/language/readings-line.ts";
import { readUnitText } from "../../server/src/language/scanner.ts";
import { readUnit, spacedUnitSpellings, UNIT_TABLE } from "../../server/src/units/index.ts";

const everySpelling = UNIT_TABLE.flatMap((entry) => [
  entry.symbol,
  ...(entry.aliases ?? []),
  ...(entry.words ?? []),
]);

const unitOf = (line: string) => {
  const syntax = readReadingsLine(line);
  if (syntax.kind !== "measured" || syntax.value.kind !== "number" || syntax.problems.length > 0)
    return undefined;
  return syntax.value.unit?.text;
};

describe("a unit behind a number", () => {
  test("every spelling of the table is read whole", () => {
    const cut = everySpelling.filter((spelling) => readUnitText(`5 ${spelling}`, 1)?.text !== spelling);
    expect(cut).toEqual([]);
  });

  test("every spelling with a blank runs on past it, also in front of what follows", () => {
    expect(spacedUnitSpellings().length).toBeGreaterThan(50);
    for (const spelling of spacedUnitSpellings()) {
      const line = `flow: 5 ${spelling} via F1`;
      expect(unitOf(line), line).toBe(spelling);
    }
  });

  test("a spelling with a blank does not swallow half of a longer word", () => {
    for (const spelling of ["delta degC", "fl oz", "US gal", "ft lb"]) {
      expect(readUnitText(`${spelling}ump`, 0)?.text).not.toBe(spelling);
    }
  });

  test.each([
    ["0.80 psi", "psi"],
    ["0.80psi", "psi"],
    ["0.80\tpsi", "psi"],
    ["0.80\u00a0psi", "psi"],
    ["101.3 kPa(a)", "kPa(a)"],
    ["45 A.h", "A.h"],
    ["45 A·h", "A·h"],
    ["10 m/s", "m/s"],
    ["9.81 m/s2", "m/s2"],
    ["9.81 m/s^2", "m/s^2"],
    ["9.81 m/s²", "m/s²"],
    ["3 m3", "m3"],
    ["3 m³", "m³"],
    ["2 1/min", "1/min"],
    ["900 J/(kg.K)", "J/(kg.K)"],
    ["3 [in_i'H2O]", "[in_i'H2O]"],
    ["3 [gal_us]/min", "[gal_us]/min"],
    ["3 m[H2O]", "m[H2O]"],
    ["61 %", "%"],
    ["61 % RH", "% RH"],
    ["19.5 °C", "°C"],
    ["5 delta degC/min", "delta degC/min"],
    ["2.5 fl oz/min", "fl oz/min"],
    ['12"', '"'],
    ["1 1/2 in", "in"],
    ["3/16 in", "in"],
  ])("%s", (written, unit) => {
    expect(unitOf(`reading: ${written}`)).toBe(unit);
    expect(readUnit(unit).ok).toBe(true);
  });

  test("an inch mark is no quote: the comment behind it is a comment", () => {
    const syntax = readReadingsLine('hose: 12"  # cut to length');
    expect(syntax.problems).toEqual([]);
    expect(syntax.kind).toBe("measured");
    expect("comment" in syntax && syntax.comment?.text).toBe("cut to length");
  });

  test("words of clauses and of logic are never units", () => {
    const syntax = readReadingsLine("test pressure: 0.80 via P2 at 09:10");
    expect(syntax.problems).toEqual([]);
    expect(syntax.kind === "measured" && syntax.value.kind === "number" && syntax.value.unit).toBe(undefined);
  });

  test("reading a unit never runs past the text and never throws", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        const unit = readUnitText(text, 0);
        if (unit) expect(text.slice(unit.span.from, unit.span.to)).toBe(unit.text);
      }),
      { numRuns: 3000 },
    );
  });
});
