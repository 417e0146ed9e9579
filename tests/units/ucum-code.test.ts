import { UcumLhcUtils } from "@lhncbc/ucum-lhc";
import { describe, expect, it } from "vitest";
import { allUnitSpellings, readUnit } from "../../server/src/units/index.ts";
import { siCode, ucumCode } from "../../server/src/units/ucum-code.ts";
import { siUnits } from "./helpers.ts";

// Source of this file's checks: the UCUM reference library of the US National Library of Medicine.
const ucum = UcumLhcUtils.getInstance();

const without: string[] = [];

describe("UCUM codes of units as they are written", () => {
  const spellings = [
    ...allUnitSpellings(),
    "cm³/min",
    "kPa(g)",
    "J/(kg.K)",
    "m^3/h",
    "µm",
    "psig",
    "m/s/s",
    "lbf/in2",
  ];

  it("are known to the reference library and mean the same there", () => {
    const wrong: string[] = [];
    for (const spelling of spellings) {
      const reading = readUnit(spelling);
      if (!reading.ok) throw new Error(spelling);
      const { unit } = reading;
      const code = ucumCode(unit);
      if (code === undefined) {
        without.push(spelling);
        continue;
      }
      if (code === "1") continue;
      const si = ucum.convertUnitTo(code, 1, siUnits(unit.dimension, "", ".") || "1");
      if (si.toVal === null) wrong.push(`${spelling}: ${code} is not known (${si.msg.join(" ")})`);
      // Mercury: UCUM rounds its column, as tests/units/ucum.test.ts tells.
      else if (unit.offset === 0 && Math.abs(si.toVal / unit.factor - 1) > 3e-6)
        wrong.push(`${spelling}: ${code}`);
    }
    expect(wrong).toEqual([]);
  });

  it("are missing for a few units only", () => {
    // Columns of a fluid at a temperature, a step of Fahrenheit, and units that UCUM defines by other numbers.
    expect(without.filter((spelling) => !/Torr|H2O|inHg\(|delta degF|ozf/.test(spelling))).toEqual([]);
  });

  it.each([
    ["psi", "[psi]"],
    ["kPa(a)", "kPa"],
    ["degC", "Cel"],
    ["delta degC", "K"],
    ["L/min", "L/min"],
    ["cm³/min", "cm3/min"],
    ["µm", "um"],
    ["mbar.L/s", "mbar.L/s"],
    ["J/(kg.K)", "J/(kg.K)"],
    ["inH2O", "[in_i'H2O]"],
    ["Ω", "Ohm"],
    ["", "1"],
  ])("%s is %s", (spelling, code) => {
    const reading = spelling === "" ? undefined : readUnit(spelling);
    const unit = reading?.ok
      ? reading.unit
      : {
          spelling: "",
          factor: 1,
          offset: 0,
          scale: "plain" as const,
          dimension: { id: "", exponents: [0, 0, 0, 0, 0, 0, 0] as const },
        };
    expect(ucumCode(unit)).toBe(code);
  });

  it("of SI units are products of the base units", () => {
    const pressure = readUnit("kPa");
    expect(pressure.ok && siCode(pressure.unit.dimension)).toBe("m-1.kg.s-2");
  });
});
