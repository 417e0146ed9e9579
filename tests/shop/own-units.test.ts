// Units of the shop's own. What they equal is held against factors of NIST SP 811 (2008), appendix B.8, and
// against the same note written in known units.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { PRESSURE, TEMPERATURE, VOLUME } from "../../server/src/units/dimension.ts";
import { readUnit, unitsOfDimension } from "../../server/src/units/index.ts";
import { ucumCode } from "../../server/src/units/ucum-code.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";
import { quantityOf, rulesOf } from "../support/values.ts";

const read = (units: string) => readShop(`units:\n${units}`, readYaml, builtInProcedures);

/** `«underlined» message → advice` for each finding. */
const findings = (units: string): string[] => {
  const text = `units:\n${units}`;
  return read(units).problems.map(
    (p) => `«${text.slice(p.range.from, p.range.to)}» ${p.message} → ${p.advice}`,
  );
};

const SHOP = `units:
  can: 20 L
  bucket: { equals: 3/5 can, also: [buckets, bkt], says: the yellow one }
  notch: 5 inH2O
  step: 2 K
  dozen: 12
  shift: 8 h
`;

/** One conventional inch of water in pascals, NIST SP 811 (2008), appendix B.8. */
const INCH_OF_WATER = 249.08891;

describe("units of the shop's own", () => {
  const own = readShop(SHOP, readYaml, builtInProcedures).units;
  const unit = (spelling: string) => {
    const reading = readUnit(spelling, own);
    return reading.ok ? reading.unit : undefined;
  };

  it("are read without a finding, in whatever order they rest on each other", () => {
    expect(readShop(SHOP, readYaml, builtInProcedures).problems).toEqual([]);
    expect(read("  tub: 2 vat\n  vat: 30 L\n").problems).toEqual([]);
    expect(read("  tub: 2 vat\n  vat: 30 L\n").units?.named("tub")?.factor).toBeCloseTo(0.06, 15);
  });

  it("have size, dimension and scale of what they equal, alone, in products and with powers", () => {
    expect(unit("can")).toMatchObject({ dimension: VOLUME, scale: "plain", offset: 0 });
    expect(unit("can")?.factor).toBeCloseTo(0.02, 15);
    expect(unit("bkt")?.factor).toBeCloseTo(0.012, 15);
    expect(unit("can/h")?.factor).toBeCloseTo(0.02 / 3600, 18);
    expect(unit("1/shift")?.factor).toBeCloseTo(1 / 28_800, 15);
    expect(unit("dozen")?.factor).toBe(12);
    expect(unit("can2")?.factor).toBeCloseTo(0.0004, 15);
  });

  it("are gauge where they are a pressure, absolute when the note says so, and steps of temperature", () => {
    expect(unit("notch")).toMatchObject({ dimension: PRESSURE, scale: "gauge" });
    expect((unit("notch")?.factor ?? 0) / (5 * INCH_OF_WATER)).toBeCloseTo(1, 9);
    expect(unit("notch(a)")?.scale).toBe("absolute");
    expect(unit("notch(a)(g)")).toBeUndefined();
    expect(unit("can(a)")).toBeUndefined();
    expect(unit("step")).toMatchObject({ dimension: TEMPERATURE, scale: "difference", factor: 2 });
  });

  it("leave the built-in units what they are", () => {
    fc.assert(
      fc.property(fc.constantFrom("psi", "L/min", "degC", "kPa(a)", "A.h", "%", "[in_i'H2O]"), (spelling) => {
        expect(readUnit(spelling, own)).toEqual(readUnit(spelling));
      }),
    );
  });

  it("have no code in UCUM, whatever another shop means by their name", () => {
    const other = readShop("units: { step: 1 K, can: 10 L }\n", readYaml, builtInProcedures).units;
    const code = (units: typeof own, spelling: string) => {
      const reading = readUnit(spelling, units);
      return reading.ok ? ucumCode(reading.unit) : "unread";
    };
    // A step of one kelvin is a kelvin; asked in both orders, since codes are remembered.
    expect([code(other, "step"), code(own, "step"), code(other, "step")]).toEqual(["K", undefined, "K"]);
    expect([code(own, "can"), code(other, "can/h")]).toEqual([undefined, undefined]);
  });

  it("are near enough to be offered for a slip", () => {
    const analysis = analyzeText(readings("fuel: 3 Can\nrest: 2 bukets"), { shop: SHOP });
    expect(analysis.findings.map(({ rule, advice }) => [rule, advice])).toEqual([
      ["unit/unknown", "Did you mean `can`?"],
      ["unit/unknown", expect.stringContaining("`buckets`")],
    ]);
    expect(analysis.findings[0]?.fixes[0]?.edits[0]?.text).toBe("can");
  });
});

describe("wherever a unit may stand in a note", () => {
  const value = (lines: string, name: string, shop = SHOP) => quantityOf(readings(lines), name, { shop });

  it("readings, tolerances, display units, numbers of a formula and recorded results", () => {
    expect(value("fuel: 3.5 can ± 0.1 bkt", "fuel")).toMatchObject({ value: 3.5, unit: "can" });
    expect(value("fuel: 3.5 can ± 0.1 bkt", "fuel").uncertainty).toBeCloseTo((2 * 0.06) / Math.sqrt(3), 12);
    expect(value("fuel: 3.5 can\nrest [bucket] = fuel - 2 buckets", "rest").value).toBeCloseTo(
      (70 - 24) / 12,
      12,
    );
    expect(value("use [can/shift] = 10 L / 2 h", "use").value).toBeCloseTo(2, 12);
    expect(rulesOf(readings("a: 3 can\nb [L] = a  ≈ 3.0 can"), { shop: SHOP })).toEqual([]);
    expect(rulesOf(readings("a: 3 can\nb [L] = a  ≈ 3.1 can"), { shop: SHOP })).toEqual([
      "reading/stale-result",
    ]);
  });

  it("columns of a series, and what is worked out from them", () => {
    const note = `---\njob: 1\n---\n\n\`\`\`series tank\nt [shift], level [can]\n0, 5.0\n1, 4.0\n2, 3.0\n\`\`\`\n\n\`\`\`readings\nuse = slope(tank level, tank t)\n\`\`\`\n`;
    expect(quantityOf(note, "use", { shop: SHOP })).toMatchObject({ value: -1, unit: "can/shift" });
  });

  it("limits of the note", () => {
    const limit = (most: string) =>
      rulesOf(`${readings("used: 50 L ± 1 L")}\n\`\`\`limits\nused <= ${most}\n\`\`\`\n`, { shop: SHOP });
    expect(limit("3 can")).toEqual([]);
    expect(limit("2.4 can")).toEqual(["limit/exceeded"]);
    expect(limit("2.52 can")).toEqual(["limit/not-proven"]);
  });

  it("limits, instruments and materials of the shop file itself", () => {
    const shop = `${SHOP}instruments:\n  B1: { measures: pressure, range: 0 to 4 notch, accuracy: 0.1 notch }\nlimits:\n  - { reading: used, error above: 2 can }\nmaterials:\n  paste: { tube: 1/2 can }\n`;
    const found = readShop(shop.replace("1/2 can", "0.5 can"), readYaml, builtInProcedures);
    expect(found.problems).toEqual([]);
    expect((found.instruments.get("b1")?.high ?? 0) / (20 * INCH_OF_WATER)).toBeCloseTo(1, 9);
    expect(found.limits[0]?.errorAbove).toBeCloseTo(0.04, 15);
    expect(found.materials.get("paste")?.tubeVolume).toBeCloseTo(0.01, 15);
  });

  it("a step's remark: pressure in the shop's own unit is held to the limit of the assembly too", () => {
    const note = (said: string) =>
      `---\njob: 1\nprocedure: lamp-moisture\nstatus: open\n---\n\n\`\`\`steps\n2031-03-04\n09:10  pressurize: smoke, ${said}\n\`\`\`\n`;
    // 12 notch are 60 inches of water, 2.2 psi: far over what a lamp should see.
    const over = (said: string) => rulesOf(note(said), { shop: SHOP }).includes("pressure/over-limit");
    expect([over("12 notch"), over("60 inH2O"), over("1 notch"), over("5 inH2O")]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(rulesOf(note("1,5 notch"), { shop: SHOP })).toContain("unit/decimal-comma");
  });

  it("`can` of one shop is not that of another, whichever was read first", () => {
    const other = SHOP.replace("20 L", "10 L");
    const litres = (shop: string) => value("fuel: 3 can\nv [L] = fuel", "v", shop).value;
    expect([litres(SHOP), litres(other), litres(SHOP)].map((v) => Number(v?.toFixed(9)))).toEqual([
      60, 30, 60,
    ]);
    expect(rulesOf(readings("fuel: 3 can"))).toEqual(["unit/unknown"]);
  });
});

describe("findings on units of the shop's own", () => {
  it.each([
    [
      "a built-in unit",
      "  psi: 7 kPa\n",
      "«psi» `psi` is a unit already, and a shop file cannot change what it means. → Give the unit another name.",
    ],
    [
      "a prefixed one",
      "  mbar: 7 kPa\n",
      "«mbar» `mbar` is a unit already, and a shop file cannot change what it means. → Give the unit another name.",
    ],
    [
      "one but for its capitals",
      "  Bar: 7 kPa\n",
      "«Bar» `Bar` differs from the unit `bar` only by its capitals; one slip would change the value. → Give the unit a name that cannot be mistaken for another.",
    ],
    [
      "a reserved word",
      "  pass: 7 kPa\n",
      "«pass» `pass` means something else behind a number, so it cannot be a unit. → Give the unit another name.",
    ],
    [
      "what is left unread on purpose",
      "  C: 1 K\n",
      "«C» `C` is left unread on purpose. C alone is the coulomb, an electric charge. For a temperature write degC. → Give the unit another name.",
    ],
    [
      "two words",
      "  big can: 7 L\n",
      "«big can» `big can` cannot be the name of a unit: a note could not tell where it ends. → Write one word of letters, such as `can` or `wash_bucket`; digits behind a unit are powers.",
    ],
    [
      "the same name twice",
      "  can: 7 L\n  tub: { equals: 3 L, also: Can }\n",
      "«Can» `Can` is there already. → Give one of the two units another name.",
    ],
    ["an unknown unit", "  can: 7 lites\n", "«lites» `lites` is no known unit. → Perhaps `liter` is meant."],
    [
      "a circle",
      "  tub: 2 vat\n  can: 3 L\n  vat: 3 bin\n  bin: 4 tub\n  box: 2 bin\n",
      "«2 vat» These units rest on each other in a circle: `tub` → `vat` → `bin` → `tub`. → Let one of them equal a unit that everybody knows, such as L, kg or min.",
    ],
    [
      "itself",
      "  tub: 2 tub\n",
      "«2 tub» `tub` is said to be so many of itself. → Let one of them equal a unit that everybody knows, such as L, kg or min.",
    ],
    [
      "nothing",
      "  tub: 0 L\n",
      "«0 L» A unit has to be more than nothing. → Write how much one of it is: 20 L.",
    ],
    [
      "a point on a scale",
      "  warm: 20 degC\n",
      "«20 degC» degC is a point on a scale and no size. → Write the size of its step, as in `2 K` or `2 delta degC`.",
    ],
    [
      "an absolute pressure",
      "  notch: 5 kPa(a)\n",
      "«5 kPa(a)» The size of a unit is neither gauge nor absolute. → Write it bare here, and `notch(a)` in notes where absolute pressure is meant.",
    ],
    [
      "a tolerance",
      "  tub: 20 L ± 1 L\n",
      "«± 1 L» A unit is exact; it takes no `±`. → Write the size alone. Where it is not sure, say so at each reading, as in `2 can ± 0.1 can`.",
    ],
    [
      "a decimal comma",
      "  tub: 2,5 L\n",
      "«2,5 L» `2,5 L` has a decimal comma. → Write a decimal point, and no mark between thousands.",
    ],
    [
      "a key that nothing reads",
      "  tub: { equals: 2 L, alias: tb }\n",
      "«alias» `alias` is no key for the unit `tub`, so nothing reads it. → Remove it. Known are equals, also, says, source.",
    ],
    [
      "nothing at all",
      "  tub:\n",
      "«tub» Nothing says what the unit `tub` equals. → Write a number and a known unit behind it: 20 L.",
    ],
  ])("%s", (_what, units, expected) => {
    expect(findings(units)).toEqual([expected]);
  });

  it("one mistake is one finding: what rests on it stays silent, and notes are told whose it is", () => {
    expect(findings("  tub: 3 zork\n  vat: 2 tub\n  bar: 3 L\n")).toHaveLength(2);
    const shop = "units:\n  tub: 3 zork\n  vat: 2 tub\n  can: 20 L\n";
    const [finding, second] = analyzeText(readings("a: 2 vat\nb: 3 can"), { shop }).findings;
    expect(finding).toMatchObject({ rule: "unit/unknown", fixes: [] });
    expect(finding?.advice).toBe(
      "The shop file means `vat` to be a unit, but with a mistake. Put it right there.",
    );
    expect(second).toBeUndefined();
  });

  it("a chain or a crowd of them is read in no time, or said to be too long", () => {
    const chain = Array.from({ length: 190 }, (_, i) => `  vat_${word(i)}: 1.01 vat_${word(i + 1)}\n`).join(
      "",
    );
    expect(findings(`${chain}  vat_${word(190)}: 1 L\n`)).toEqual([]);
    const crowd = Array.from({ length: 5000 }, (_, i) => `  vat_${word(i)}: 1 L\n`).join("");
    expect(findings(crowd)).toEqual([
      expect.stringContaining("From here on there are more units than are read."),
    ]);
  });

  const word = (i: number): string =>
    [...String(i)].map((digit) => "qwrtzkvbnx".charAt(Number(digit))).join("");
});

it("a unit x = k u gives the same values, uncertainties and findings as k u written out", () => {
  const known = [VOLUME, PRESSURE].flatMap(unitsOfDimension).filter((spelling) => {
    const reading = readUnit(spelling);
    return reading.ok && reading.unit.scale !== "absolute" && !spelling.includes("(g)");
  });
  const figure = fc.integer({ min: 1, max: 99_999 }).map((n) => n / 100);
  fc.assert(
    fc.property(
      figure,
      fc.constantFrom(...known, "L/min", "A", "K", "N.m"),
      figure,
      figure,
      (k, u, v, off) => {
        const shop = `units:\n  jar: ${k} ${u}\n`;
        const lines = (number: (x: number) => string) =>
          readings(
            `a: ${number(v)} ± ${number(off / 100)}\nb = a * 3 + ${number(off)}\nc = a / (2 * ${number(v + off)})\nd = a ^ 2`,
          );
        // Written with an exponent where digits would not do: the value must be the same to the last place.
        const plain = (x: number) => `${String(x * k)} ${u}`;
        const own = analyzeText(
          lines((x) => `${String(x)} jar`),
          { shop },
        );
        const written = analyzeText(lines(plain));
        expect(own.findings.map(({ rule }) => rule)).toEqual(written.findings.map(({ rule }) => rule));
        for (const [i, value] of own.values.entries()) {
          const [one, other] = [value.shown, written.values[i]?.shown];
          expect(one === undefined).toBe(other === undefined);
          if (one?.kind !== "quantity" || other?.kind !== "quantity") continue;
          const factor = one.unit === "jar" ? k : 1;
          expect(one.value * factor).toBeCloseTo(
            other.value,
            6 - Math.ceil(Math.log10(Math.abs(other.value) + 1)),
          );
          expect(close(one.value * factor, other.value)).toBe(true);
          expect(close((one.uncertainty ?? 0) * factor, other.uncertainty ?? 0)).toBe(true);
        }
      },
    ),
    { numRuns: 200 },
  );
});

const close = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
