import { UcumLhcUtils } from "@lhncbc/ucum-lhc";
import { describe, expect, it } from "vitest";
import { readUnit, toSI } from "../../server/src/units/index.ts";
import { UNIT_TABLE } from "../../server/src/units/unit-table.ts";
import { relative, siUnits, unit } from "./helpers.ts";

// Source of this file's checks: the UCUM reference library of the US National Library of Medicine, an
// independent implementation of the Unified Code for Units of Measure.
const ucum = UcumLhcUtils.getInstance();

/** Codes where we part from UCUM by more than 1e-9, and why. */
const DEVIATIONS: Readonly<Record<string, { readonly relative: number; readonly reason: string }>> =
  Object.fromEntries(
    ["m[Hg]", "cm[Hg]", "mm[Hg]", "[in_i'Hg]"].map((code) => [
      code,
      {
        relative: 3e-6,
        reason:
          "UCUM rounds the metre of mercury to 133.322 kPa; we keep NIST's conventional 133.322387415 kPa",
      },
    ]),
  );

const codes = UNIT_TABLE.flatMap((entry) =>
  (entry.ucum ?? []).flatMap((code) => {
    const prefixed = (entry.prefixes ?? []).map((prefix) => (prefix === "µ" ? "u" : prefix) + code);
    return entry.onlyPrefixed ? prefixed : [code, ...prefixed];
  }),
);

/** Codes that the trade's units need and that are put together from several entries. */
const COMPOUND_CODES = [
  "[ft_i]3/min",
  "[cft_i]/min",
  "[in_i]3",
  "[in_i]2",
  "[lbf_av].[ft_i]",
  "[lbf_av].[in_i]",
  "[lbf_av]/[in_i]2",
  "cm3/min",
  "m3/h",
  "Pa.m3/s",
  "Pa.m3.s-1",
  "mbar.L/s",
  "[lb_av]/h",
  "[gal_us]/min",
  "[gal_br]/min",
  "Ohm.mm2/m",
  "J/(kg.K)",
  "kg/m3",
  "1/min",
  "/min",
  "m/s2",
  "kW.h",
  "mA.h",
];

function ucumFactor(code: string, si: string): number {
  const answer = ucum.convertUnitTo(code, 1, si);
  if (answer.toVal === null) throw new Error(`UCUM does not know "${code}": ${answer.msg.join(" ")}`);
  return answer.toVal;
}

describe("every UCUM code means what UCUM says", () => {
  for (const code of [...new Set([...codes, ...COMPOUND_CODES])]) {
    const deviation = DEVIATIONS[code];
    it(deviation ? `${code} (${deviation.reason})` : code, () => {
      const read = unit(code);
      const theirs = ucumFactor(code, siUnits(read.dimension, "", "."));
      const off = relative(toSI(1, read), theirs);
      expect(off).toBeLessThan(deviation?.relative ?? 1e-9);
      if (deviation) expect(off).toBeGreaterThan(1e-9);
    });
  }

  it("covers the codes of the trade's units", () => {
    for (const code of [
      ..."[psi] Pa kPa hPa bar mbar [in_i'Hg] mm[Hg] [in_i'H2O] mm[H2O] m[H2O] Cel [degF] K A mA V mV Ohm W A.h".split(
        " ",
      ),
      ..."[in_i] mm [ft_i] um N [lbf_av] kgf N.m g [oz_av] [lb_av] s min h d % [ppm] L mL [gal_us] [gal_br]".split(
        " ",
      ),
      ..."[foz_us] [foz_br] [cft_i] [mi_i] [yd_i] [qt_us] [pt_us] [HP] [Btu_IT] att atm".split(" "),
    ]) {
      expect(readUnit(code), code).toMatchObject({ ok: true });
    }
  });
});
