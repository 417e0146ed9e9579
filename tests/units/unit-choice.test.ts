import { describe, expect, it } from "vitest";
import {
  allUnitSpellings,
  defaultUnit,
  describeDimension,
  dimensions,
  PLAIN_NUMBER,
  readUnit,
  spacedUnitSpellings,
  unitsOfDimension,
  unitWithScale,
} from "../../server/src/units/index.ts";
import { fold, UNIT_TABLE } from "../../server/src/units/unit-table.ts";
import { unit } from "./helpers.ts";

describe("the table", () => {
  it("has no spelling with two meanings", () => {
    const owner = new Map<string, string>();
    for (const entry of UNIT_TABLE) {
      for (const spelling of [
        entry.symbol,
        ...(entry.aliases ?? []),
        ...(entry.ucum ?? []),
        ...(entry.words ?? []),
      ]) {
        const other = owner.get(fold(spelling)) ?? entry.symbol;
        expect(other, `${spelling} belongs to ${other} and ${entry.symbol}`).toBe(entry.symbol);
        owner.set(fold(spelling), entry.symbol);
      }
    }
  });

  it("has no prefixed form that is another unit's own spelling with another meaning", () => {
    for (const entry of UNIT_TABLE) {
      for (const symbol of [entry.symbol, ...(entry.aliases ?? []), ...(entry.ucum ?? [])]) {
        for (const prefix of entry.prefixes ?? []) {
          expect(unit(prefix + symbol).dimension, prefix + symbol).toBe(entry.dimension);
        }
      }
    }
  });

  it("names a source for every entry", () => {
    for (const entry of UNIT_TABLE) expect(entry.source.length, entry.symbol).toBeGreaterThan(3);
  });
});

describe("completion", () => {
  it("offers only spellings that are read, each once", () => {
    const spellings = allUnitSpellings();
    expect(new Set(spellings).size).toBe(spellings.length);
    for (const spelling of spellings) expect(readUnit(spelling), spelling).toMatchObject({ ok: true });
  });

  it("offers the units of a dimension, the usual ones first", () => {
    expect(unitsOfDimension(dimensions.PRESSURE).slice(0, 3)).toEqual(["psi", "kPa", "inH2O"]);
    expect(unitsOfDimension(dimensions.PRESSURE)).toEqual(
      expect.arrayContaining(["psia", "kPa(a)", "inHg(60degF)"]),
    );
    expect(unitsOfDimension(dimensions.TEMPERATURE)).toEqual(
      expect.arrayContaining(["degC", "degF", "K", "delta degC", "delta degF"]),
    );
    expect(unitsOfDimension(dimensions.VOLUME_FLOW)).toEqual(
      expect.arrayContaining(["L/min", "ft3/min", "m3/h"]),
    );
  });

  it("lists spellings with blanks, the longest first, and reads them", () => {
    const spaced = spacedUnitSpellings();
    expect(spaced).toEqual(expect.arrayContaining(["fl oz", "delta degC", "US gal"]));
    for (const spelling of spaced) expect(readUnit(spelling), spelling).toMatchObject({ ok: true });
    expect(spaced.map((s) => s.length)).toEqual([...spaced.map((s) => s.length)].sort((a, b) => b - a));
  });
});

describe("the unit shown when a note asks for none", () => {
  const CHOICES: readonly (readonly [string, dimensions.Dimension, string])[] = [
    ["force", dimensions.FORCE, "N"],
    ["volume flow", dimensions.VOLUME_FLOW, "L/min"],
    ["length", dimensions.LENGTH, "mm"],
    ["area", dimensions.AREA, "cm2"],
    ["volume", dimensions.VOLUME, "mL"],
    ["voltage", dimensions.VOLTAGE, "V"],
    ["current", dimensions.CURRENT, "A"],
    ["resistance", dimensions.RESISTANCE, "Ω"],
    ["charge", dimensions.CHARGE, "A.h"],
    ["time", dimensions.TIME, "s"],
    ["power", dimensions.POWER, "W"],
  ];
  for (const [name, dimension, spelling] of CHOICES) {
    it(`is ${spelling} for ${name}`, () => expect(defaultUnit(dimension, "plain")?.spelling).toBe(spelling));
  }

  it("keeps the scale", () => {
    expect(defaultUnit(dimensions.PRESSURE, "gauge")).toMatchObject({ spelling: "kPa", scale: "gauge" });
    expect(defaultUnit(dimensions.PRESSURE, "absolute")).toMatchObject({
      spelling: "kPa(a)",
      scale: "absolute",
    });
    expect(defaultUnit(dimensions.TEMPERATURE, "point")?.spelling).toBe("degC");
    expect(defaultUnit(dimensions.TEMPERATURE, "difference")?.spelling).toBe("K");
    expect(defaultUnit(dimensions.NONE, "plain")).toBe(PLAIN_NUMBER);
  });

  it("falls back on SI base units, and gives none for broken powers", () => {
    const odd = dimensions.dimension([2, 1, -3, -1, 0, 0, 1]);
    expect(defaultUnit(odd, "plain")).toMatchObject({ spelling: "m2.kg.cd/s3/A", factor: 1, dimension: odd });
    expect(defaultUnit(dimensions.dimension([0, 0, -2, 0, 0, 0, 0]), "plain")?.spelling).toBe("1/s2");
    expect(defaultUnit(dimensions.toPower(dimensions.LENGTH, 0.5), "plain")).toBeUndefined();
  });
});

describe("the twin of a unit on another scale", () => {
  const TWINS: readonly (readonly [string, Parameters<typeof unitWithScale>[1], string | undefined])[] = [
    ["kPa", "absolute", "kPa(a)"],
    ["psi", "absolute", "psia"],
    ["psia", "gauge", "psig"],
    ["psig", "absolute", "psia"],
    ["kPa(a)", "gauge", "kPa(g)"],
    ["bar", "absolute", "bar(a)"],
    ["barg", "absolute", "bara"],
    ["inHg(0degC)", "absolute", "inHg(0degC)(a)"],
    ["kgf/cm²", "absolute", "kgf/cm²(a)"],
    ["degC", "difference", "delta degC"],
    ["°F", "difference", "delta degF"],
    ["delta degF", "point", "degF"],
    ["degC", "kelvin", "K"],
    ["psi", "gauge", "psi"],
    ["V", "absolute", undefined],
    ["mm", "point", undefined],
    ["degF", "gauge", undefined],
  ];
  for (const [from, scale, to] of TWINS) {
    it(`${from} as ${scale} is ${to ?? "nothing"}`, () => {
      expect(unitWithScale(unit(from), scale)?.spelling).toBe(to);
    });
  }
});

describe("dimensions in words", () => {
  it("have names for everything a workshop measures", () => {
    expect(describeDimension(dimensions.PRESSURE)).toBe("a pressure");
    expect(describeDimension(dimensions.toPower(dimensions.LENGTH, 7))).toBeUndefined();
  });
});
