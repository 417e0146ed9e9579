import { describe, expect, it } from "vitest";
import { dimensions, readUnit } from "../../server/src/units/index.ts";
import { relative, unit } from "./helpers.ts";

/** Spellings of one line mean the same unit. */
const SAME: readonly (readonly [string, ...string[]])[] = [
  ["µm", "\u03bcm", "um", "\u00b5m", "micrometres"],
  ["Ω", "\u2126", "ohm", "ohms", "Ohm"],
  ["kΩ", "k\u2126", "kohm", "kOhm"],
  ["degC", "°C", "℃", "\u00baC", "Cel", "deg C"],
  ["degF", "°F", "℉", "[degF]", "deg F"],
  ["delta degC", "delta °C", "Δ°C", "\u2206°C", "delta  degC"],
  ["m3", "m^3", "m³", "m.m.m"],
  ["1/s", "s-1", "s^-1", "s⁻¹", "/s"],
  ["kg/m3", "kg.m-3", "kg·m⁻³", "kg/m/m/m"],
  ["J/(kg.K)", "J/kg/K", "J.kg-1.K-1"],
  ["N.m", "N·m", "N⋅m", "Nm", "newton.metre"],
  ["lbf.ft", "ft.lbf", "ft-lbf", "[lbf_av].[ft_i]"],
  ["lb.ft", "ft.lb", "ft-lb", "ftlb", "ft-lbs", "lb·ft", "ft lb"],
  ["L/min", "l/min", "lpm", "litres/minute", "dm3/min", "L/(min)"],
  ["ft3/min", "cfm", "ft^3/min", "[cft_i]/min", "[ft_i]3/min"],
  ["mL", "ml", "cm3", "cc", "millilitres", "milliliters"],
  ["inH2O", "inH₂O", "in.H2O", "inWC", "[in_i'H2O]"],
  ["A.h", "Ah", "A·h"],
  ["gal(US)", "usgal", "US gal", "[gal_us]"],
  ["floz(imp)", "imp fl oz", "UK fl oz", "[foz_br]"],
  ["psi", "lbf/in2", "lbf/in²", "[psi]"],
  ["kgf/cm2", "kgf/cm²", "att"],
  ["in", "inch", "inches", "[in_i]", "″"],
  ["s", "sec", "seconds"],
  ["h", "hr", "hrs", "hours"],
  ["mi/h", "mph"],
  ["rpm", "rev/min", "r/min"],
];

describe("spellings", () => {
  for (const [first, ...others] of SAME) {
    it(`${first} is also written ${others.join(", ")}`, () => {
      const wanted = unit(first);
      for (const other of others) {
        const got = unit(other);
        expect(got.dimension, other).toBe(wanted.dimension);
        expect(relative(got.factor, wanted.factor), other).toBeLessThan(1e-15);
        expect(got.scale, other).toBe(wanted.scale);
        expect(got.spelling).toBe(other);
      }
    });
  }

  it("reads every unit of the trade", () => {
    const trade =
      "psi psig psia kPa hPa bar mbar inHg mmHg inH2O mmH2O ft3/min L/min cm3/min m3/h degC degF K A mA V mV Ω W A.h " +
      "in mm ft µm N lbf kgf N.m lbf.ft g oz lb s min h d % ppm L mL gal(US) gal(imp) floz(US) floz(imp) Pa.m3/s mbar.L/s " +
      "J kJ W.h Hz rpm mol mm2 cm2 m2 in2 ft2 km mi dm3 cm3 cc kg/m3 g/m3 Pa barg bara";
    for (const spelling of trade.split(" ")) expect(readUnit(spelling), spelling).toMatchObject({ ok: true });
  });

  it("remembers what it read", () => {
    expect(readUnit("mbar.L/s")).toBe(readUnit("mbar.L/s"));
  });
});

describe("gauge and absolute", () => {
  it("reads every bare pressure as gauge", () => {
    for (const spelling of [
      "psi",
      "kPa",
      "inH2O",
      "bar",
      "atm",
      "mmHg",
      "Torr",
      "kgf/cm2",
      "N/mm2",
      "lbf/ft2",
    ]) {
      expect(unit(spelling).scale, spelling).toBe("gauge");
    }
  });

  it("reads (g), (a) and the glued letters", () => {
    for (const spelling of ["psig", "kPa(g)", "barg", "mbarg", "bar(gauge)", "atm(g)"]) {
      expect(unit(spelling), spelling).toMatchObject({ scale: "gauge" });
    }
    for (const spelling of [
      "psia",
      "kPa(a)",
      "bara",
      "mbara",
      "kPaa",
      "bar(abs)",
      "inHg(0degC)(a)",
      "kgf/cm2(a)",
    ]) {
      expect(unit(spelling), spelling).toMatchObject({ scale: "absolute", offset: 0 });
    }
    expect(unit("psia").factor).toBe(unit("psi").factor);
  });

  it("keeps a pressure inside a product plain", () => {
    for (const spelling of ["Pa.m3/s", "mbar.L/s", "atm.cm3/min", "psi.ft3", "Pa/s", "m3/(s.Pa)"]) {
      expect(unit(spelling).scale, spelling).toBe("plain");
    }
  });

  it("refuses the scale on what is no pressure, and twice", () => {
    expect(readUnit("mm(a)")).toMatchObject({ ok: false, from: 2, to: 5, nearest: ["mm"] });
    expect(readUnit("Pa.m3/s(a)")).toMatchObject({ ok: false, nearest: ["Pa.m3/s"] });
    expect(readUnit("kPa(a)(g)")).toMatchObject({ ok: false, from: 6, to: 9, nearest: ["kPa(a)"] });
  });
});

describe("temperatures", () => {
  it("are points, differences or kelvin", () => {
    expect(unit("degC")).toMatchObject({ scale: "point", offset: 273.15 });
    expect(unit("degF").scale).toBe("point");
    expect(unit("K")).toMatchObject({ scale: "kelvin", offset: 0 });
    expect(unit("delta degF")).toMatchObject({ scale: "difference", factor: 5 / 9, offset: 0 });
  });

  it("are steps inside a compound", () => {
    expect(unit("degC/min")).toMatchObject({ scale: "plain", factor: 1 / 60, offset: 0 });
    expect(relative(unit("V/degF").factor, 9 / 5)).toBeLessThan(1e-15);
  });
});

describe("units that mean more than one thing", () => {
  it("say which meaning was taken", () => {
    expect(unit("inH2O").remark).toContain("249.08891");
    expect(unit("inHg").remark).toContain("3386.38864");
    expect(unit("gal").remark).toContain("US gallon");
    expect(unit("fl oz").remark).toContain("imperial");
    expect(unit("gal/h").remark).toBe(unit("gal").remark);
    expect(unit("lb.ft").remark).toContain("lbf.ft");
    for (const spelling of ["inH2O(4degC)", "inHg(60degF)", "gal(US)", "gal(imp)", "floz(US)", "kPa"]) {
      expect(unit(spelling).remark, spelling).toBeUndefined();
    }
  });
});

describe("traps", () => {
  it("keeps look-alikes apart", () => {
    // From memory: the pairs that prefix and product rules confuse.
    expect(unit("min").dimension).toBe(dimensions.TIME);
    expect(unit("min/m")).toMatchObject({
      factor: 60,
      dimension: dimensions.over(dimensions.TIME, dimensions.LENGTH),
    });
    expect(unit("cd").dimension).toBe(dimensions.LUMINOUS_INTENSITY);
    expect(unit("Pa").dimension).toBe(dimensions.PRESSURE);
    expect(readUnit("P.a")).toMatchObject({ ok: false });
    expect(unit("in")).toMatchObject({ factor: 0.0254, dimension: dimensions.LENGTH });
    expect(unit("ft")).toMatchObject({ dimension: dimensions.LENGTH });
    expect(unit("pt").dimension).toBe(dimensions.VOLUME);
    expect(unit("mol").dimension).toBe(dimensions.AMOUNT);
    expect(unit("Nm").dimension).toBe(dimensions.ENERGY);
    expect(unit("nm").dimension).toBe(dimensions.LENGTH);
    expect(unit("h").dimension).toBe(dimensions.TIME);
    expect(unit("kg").dimension).toBe(dimensions.MASS);
    expect(unit("oz").dimension).toBe(dimensions.MASS);
    expect(unit("floz").dimension).toBe(dimensions.VOLUME);
    expect(unit("mPa.s").dimension).toBe(dimensions.VISCOSITY);
    expect(unit("MPa").factor).toBe(1e6);
    expect(unit("mPa").factor).toBe(1e-3);
  });

  it("divides by one factor at a time", () => {
    expect(unit("m/s/s").dimension).toBe(unit("m/s2").dimension);
    expect(unit("Pa/m3.s").dimension).toBe(unit("Pa.s/m3").dimension);
  });

  it("never takes the asterisk for a product", () => {
    expect(readUnit("N*m")).toMatchObject({ ok: false });
  });

  it("offers degrees for a bare C or F", () => {
    expect(readUnit("C")).toMatchObject({ ok: false, from: 0, to: 1, nearest: ["degC"] });
    expect(readUnit("F")).toMatchObject({ ok: false, from: 0, to: 1, nearest: ["degF"] });
    expect(readUnit("mV/C")).toMatchObject({ ok: false, from: 3, to: 4, nearest: ["mV/degC"] });
    const reading = readUnit("C");
    expect(reading.ok ? undefined : reading.remark).toContain("coulomb");
    expect(unit("µF").dimension).toBe(dimensions.CAPACITANCE);
  });

  it("asks for the reference state of a standard flow", () => {
    const reading = readUnit("sccm");
    expect(reading).toMatchObject({ ok: false, nearest: ["cm3/min", "Pa.m3/s"] });
    expect(reading.ok ? undefined : reading.remark).toContain("21.1");
  });
});

describe("unknown units", () => {
  const OFFERS: readonly (readonly [string, readonly string[]])[] = [
    ["PSI", ["psi"]],
    ["Psi", ["psi"]],
    ["PSIG", ["psig"]],
    ["KPA", ["kPa"]],
    ["Kpa(a)", ["kPa(a)"]],
    ["°c", ["°C"]],
    ["MA", ["mA"]],
    ["Mbar", ["mbar"]],
    ["Mm", ["mm"]],
    ["CFM", ["cfm"]],
    ["AH", ["Ah"]],
    ["inh2o", ["inH2O"]],
    ["LBF", ["lbf"]],
    ["Pa.m3/sek", ["Pa.m3/s", "Pa.m3/sec"]],
    ["ml/min.", ["mL/min", "L/min", "l/min"]],
  ];
  for (const [written, offered] of OFFERS) {
    it(`offers ${offered.join(", ")} for ${written}`, () => {
      expect(readUnit(written)).toMatchObject({ ok: false, nearest: offered });
    });
  }

  it("offers nothing where nothing is near", () => {
    for (const spelling of ["xyz", "q", "zz", "furlong", "", "/", "(m", "m)", "m0", "m10", "s--1", "%%%"]) {
      expect(readUnit(spelling), spelling).toMatchObject({ ok: false, nearest: [] });
    }
  });

  it("marks the part that it does not know", () => {
    expect(readUnit("mbar.X/s")).toMatchObject({ ok: false, from: 5, to: 6 });
    expect(readUnit("kg/mm³/qq2")).toMatchObject({ ok: false, from: 7, to: 9 });
    expect(readUnit("J/(kg.xx)")).toMatchObject({ ok: false, from: 6, to: 8 });
  });

  it("refuses powers that leave the range of numbers", () => {
    expect(readUnit("nm9.nm9.nm9.nm9.nm9")).toMatchObject({ ok: false });
    expect(readUnit("kPa9.kPa9.kPa9.GPa9.GPa9.GPa9.GPa9.GPa9")).toMatchObject({ ok: false });
  });

  it("never offers a scale inside a product", () => {
    const reading = readUnit("mbar.kPA(a)");
    expect(reading.ok ? [] : reading.nearest).not.toContain("mbar.kPa(a)");
  });

  it("bears a thousand brackets", () => {
    expect(readUnit(`${"(".repeat(1000)}m${")".repeat(1000)}`)).toMatchObject({ ok: false });
    expect(readUnit("(".repeat(1000))).toMatchObject({ ok: false });
    expect(readUnit("m.".repeat(5000))).toMatchObject({ ok: false });
  });
});
