import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parse, stringify } from "yaml";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";
import { limitOfError } from "../../server/src/shop/shop.ts";
import { PRESSURE } from "../../server/src/units/dimension.ts";

const read = (text: string) => readShop(text, readYaml, builtInProcedures);

/** `«underlined text» message → advice` for each finding. */
const findings = (text: string): string[] =>
  read(text).problems.map((p) => `«${text.slice(p.range.from, p.range.to)}» ${p.message} → ${p.advice}`);

const document = readFileSync(new URL("../../grammar/SHOP.md", import.meta.url), "utf8");
const example = /```yaml\n([\s\S]*?)```/.exec(document)?.[1] ?? "";

/** Pascals of one psi, NIST SP 811 (2008), appendix B.8. */
const PSI = 6894.757;

describe("the example of the shop file's reference", () => {
  const shop = read(example);

  it("is read without a finding", () => {
    expect(findings(example)).toEqual([]);
    expect(shop.present).toBe(true);
    expect(shop.altitude).toBe(240);
  });

  it("gives the gauge in SI, with its limit of error by hand", () => {
    const gauge = shop.instruments.get("p2");
    expect(gauge).toMatchObject({
      id: "P2",
      measures: PRESSURE,
      low: 0,
      accuracy: [{ kind: "of full scale", fraction: 0.01 }],
      calibrated: "2031-01-15",
      intervalMonths: 12,
      calibrationDue: "2032-01-15",
    });
    expect((gauge?.high ?? 0) / (5 * PSI)).toBeCloseTo(1, 6);
    expect((gauge?.resolution ?? 0) / (0.01 * PSI)).toBeCloseTo(1, 6);
    // One hundredth of 5 psi, whatever is read.
    expect((gauge && limitOfError(gauge, 0.8 * PSI)) ?? 0).toBeCloseTo(0.05 * PSI, 1);
  });

  it("adds shares and digits: 2 % of 9.2 A and three tenths make 0.484 A", () => {
    const clamp = shop.instruments.get("c1");
    expect(clamp && limitOfError(clamp, 9.2)).toBeCloseTo(0.484, 12);
    expect(clamp?.calibrationDue).toBeUndefined();
  });

  it("keeps an absolute gauge absolute and splits its error", () => {
    const barometer = shop.instruments.get("b1");
    expect(barometer?.unit.scale).toBe("absolute");
    expect(barometer?.low).toBeCloseTo(80_000, 6);
    expect(barometer?.accuracy).toEqual([{ kind: "fixed", halfWidth: 200 }]);
    expect(barometer?.split?.zero).toBeCloseTo(150, 9);
    expect(barometer?.split?.gain).toBeCloseTo(0.0002, 12);
    expect(barometer?.split?.repeatability).toBeCloseTo(50, 9);
  });

  it("gives the sealant's data sheet point in SI", () => {
    const sealant = shop.materials.get("flowable silicone");
    expect(sealant?.skinTime).toBe(1200);
    expect(sealant?.cure?.depth).toBeCloseTo(0.003, 12);
    expect(sealant?.cure?.time).toBe(86_400);
    expect(sealant?.cure?.temperature).toBeCloseTo(296.15, 9);
    expect(sealant?.cure?.humidity).toBeCloseTo(0.5, 12);
    expect(sealant?.tubeVolume).toBeCloseTo(8e-5, 12);
  });

  it("gives the limit", () => {
    const [limit] = shop.limits;
    expect(limit).toMatchObject({
      procedure: "lamp-moisture",
      quantity: "test pressure",
      source: "our lamp list",
    });
    expect((limit?.errorAbove ?? 0) / PSI).toBeCloseTo(1, 6);
    expect((limit?.warnAbove ?? 0) / PSI).toBeCloseTo(0.5, 6);
  });

  it("still has the built-in procedures", () => {
    expect([...shop.procedures.keys()]).toEqual(builtInProcedures.map((p) => p.id));
  });
});

describe("the invented workshop of the samples", () => {
  it("is read without a finding", () => {
    const text = readFileSync(new URL("../../samples/shop.yaml", import.meta.url), "utf8");
    expect(findings(text)).toEqual([]);
    expect(read(text).instruments.size).toBeGreaterThan(10);
  });
});

const gauge = (lines: string) =>
  `instruments:\n  P1:\n    measures: pressure\n    range: 0 to 5 psi\n    ${lines}\n`;

describe("findings in a shop file", () => {
  it.each<[string, string, string[]]>([
    ["nothing at all", "", []],
    ["empty sections", "instruments:\nmaterials:\nlimits:\nprocedures:\n", []],
    [
      "an unknown key",
      "instrumnts: {}\n",
      [
        "«instrumnts» `instrumnts` is no key for the shop file, so nothing reads it. → Perhaps `instruments` is meant.",
      ],
    ],
    [
      "formulas that are a list",
      "formulas: []\n",
      [
        "«[]» `formulas` takes names, each with keys of its own. → Below `formulas:`, start a line for each with its name and a colon.",
      ],
    ],
    ["a key of the shop's own", "x-owner: invented\n", []],
    [
      "an instrument without its range",
      "instruments:\n  P1:\n    measures: pressure\n",
      ["«P1» `range` is missing for the instrument `P1`. → Add `range:`."],
    ],
    [
      "an unknown kind of quantity",
      "instruments:\n  P1: { measures: presure, range: 0 to 5 psi }\n",
      ["«presure» `presure` is nothing that an instrument here can measure. → Perhaps `pressure` is meant."],
    ],
    [
      "a range of another kind",
      "instruments:\n  P1: { measures: pressure, range: 0 to 5 A }\n",
      [
        "«0 to 5 A» The range of the instrument `P1` needs a pressure; `0 to 5 A` is a current. → Correct the number's unit.",
      ],
    ],
    [
      "a range with a hyphen",
      "instruments:\n  P1: { measures: pressure, range: 0-5 psi }\n",
      ["«0-5 psi» `0-5 psi` is no range. → Write both ends with `to` between: 0 to 5 psi."],
    ],
    [
      "a range upside down",
      "instruments:\n  P1: { measures: pressure, range: 5 to 0 psi }\n",
      ["«5 to 0 psi» The range's lower end is not below its upper end. → Write the lower end first."],
    ],
    [
      "a decimal comma",
      gauge("resolution: 0,01 psi"),
      ["«0,01 psi» `0,01 psi` has a decimal comma. → Write a decimal point, and no mark between thousands."],
    ],
    [
      "no unit",
      gauge("resolution: 0.01"),
      ["«0.01» `0.01` has no unit. → Write the unit behind the number."],
    ],
    [
      "a percentage of nothing",
      gauge("accuracy: 1 %"),
      [
        "«1 %» `1 %` of what? The reading and the full scale give different errors. → Write `1 % of reading` or `1 % of full scale`, as its data sheet says.",
      ],
    ],
    [
      "digits without a resolution",
      gauge("accuracy: 0.5 % of reading + 2 digits"),
      [
        "«2 digits» Digits tell nothing while the resolution of the instrument `P1` is not known. → Add `resolution:`, one step of its display.",
      ],
    ],
    [
      "an accuracy in the wrong unit",
      gauge("accuracy: 1 % of reading + 2 A"),
      [
        "«2 A» The accuracy of the instrument `P1` needs a pressure; `2 A` is a current. → Correct the number's unit.",
      ],
    ],
    [
      "a day in another order",
      gauge("calibrated: 15.01.2031"),
      ["«15.01.2031» `15.01.2031` is not read as a day of the calendar. → Write 2031-01-15."],
    ],
    [
      "an interval",
      gauge("interval: yearly"),
      ["«yearly» `yearly` is no calibration interval. → Write whole months or years: 12 months."],
    ],
    [
      "half a split",
      gauge("split: { zero: 0.01 psi, gain: 0.5 % }"),
      ["«split» `split, repeatability` is missing for the instrument `P1`. → Add `repeatability:`."],
    ],
    [
      "the same name in capitals",
      "instruments:\n  p1: { measures: pressure, range: 0 to 5 psi }\n  P1: { measures: pressure, range: 0 to 5 psi }\n",
      ["«P1» `P1` is there already; capitals make no difference. → Give one of them another name."],
    ],
    [
      "instruments in a list",
      "instruments: [P1, P2]\n",
      [
        "«[P1, P2]» `instruments` takes names, each with keys of its own. → Below `instruments:`, start a line for each with its name and a colon.",
      ],
    ],
    [
      "a cure without a time",
      "materials:\n  glue: { cure: 3 mm a day }\n",
      [
        "«3 mm a day» `3 mm a day` does not say what depth cures in what time. → Write depth, time and conditions of the data sheet: 3 mm in 24 h at 23 degC and 50 %.",
      ],
    ],
    [
      "a cure in the wrong order",
      "materials:\n  glue: { cure: 24 h in 3 mm }\n",
      [
        "«24 h» The depth needs a length; `24 h` is a time. → Correct the number's unit.",
        "«3 mm» The time needs a time; `3 mm` is a length. → Correct the number's unit.",
      ],
    ],
    [
      "a limit for an unknown procedure",
      "limits:\n  - { procedure: lamp-moistur, reading: test pressure, error above: 1 psi }\n",
      ["«lamp-moistur» There is no procedure `lamp-moistur`. → Perhaps `lamp-moisture` is meant."],
    ],
    [
      "a limit without a bound",
      "limits:\n  - { reading: test pressure }\n",
      [
        "«{ reading: test pressure }» This limit limits nothing. → Add `warn above:`, `error above:` or both.",
      ],
    ],
    [
      "a warning behind its error",
      "limits:\n  - { reading: test pressure, warn above: 2 psi, error above: 1 psi }\n",
      ["«2 psi» The warning would come only after the error. → Put `warn above` at or below `error above`."],
    ],
    [
      "an altitude in feet is fine, one on the moon is not",
      "altitude: 80000 ft\n",
      ["«80000 ft» No workshop stands at this altitude. → Write the height above sea level, such as 240 m."],
    ],
    [
      "broken YAML, told once",
      "altitude: 240 m\ninstruments:\n  P1: [\nmaterials: 3\n",
      [
        "«[» A bracket ([) opens here and is never closed. → Close it, or put the whole value in quotes if the mark is part of the text.",
      ],
    ],
  ])("%s", (_what, text, expected) => {
    expect(findings(text)).toEqual(expected);
  });

  it("leaves out what is wrong and keeps the rest", () => {
    const shop = read(gauge("resolution: 0,01 psi\n    accuracy: ± 0.05 psi\n  P2: 3"));
    expect([...shop.instruments.keys()]).toEqual(["p1"]);
    expect(shop.instruments.get("p1")?.resolution).toBe(0);
    expect(shop.instruments.get("p1")?.accuracy.length).toBe(1);
  });

  it("takes a share of the humidity scale as percentage points, and half a degree as a width", () => {
    const shop = read(
      "instruments:\n  H1: { measures: humidity, range: 0 to 100 %, accuracy: ± 3 % }\n" +
        "  T1: { measures: temperature, range: -40 to 150 degC, resolution: 0.1 K, accuracy: ± 0.5 degC }\n",
    );
    expect(shop.problems).toEqual([]);
    expect(shop.instruments.get("h1")?.accuracy).toEqual([{ kind: "fixed", halfWidth: 0.03 }]);
    const thermometer = shop.instruments.get("t1");
    expect(thermometer?.accuracy).toEqual([{ kind: "fixed", halfWidth: 0.5 }]);
    expect(thermometer?.low).toBeCloseTo(233.15, 9);
  });

  it("counts calibration by months: 31 August and six months is the end of February", () => {
    const due = (lines: string) => read(gauge(lines)).instruments.get("p1")?.calibrationDue;
    expect(due("calibrated: 2030-08-31\n    interval: 6 months")).toBe("2031-02-28");
    expect(due("calibrated: 2031-12-15\n    interval: 2 years")).toBe("2033-12-15");
  });
});

describe("a procedure of the shop's own", () => {
  /** A built-in procedure's file, changed, as an item of a shop file, with its repeated parts written out. */
  const inShop = (id: string, change: (file: Record<string, unknown>) => Record<string, unknown>): string => {
    const url = new URL(`../../server/src/procedures/${id}.yaml`, import.meta.url);
    const file: Record<string, unknown> = parse(readFileSync(url, "utf8"));
    return stringify({ procedures: [change(file)] }, { aliasDuplicateObjects: false });
  };

  it("joins the built-in ones", () => {
    const shop = read(inShop("lamp-moisture", (file) => ({ ...file, id: "beacon-moisture" })));
    expect(shop.problems).toEqual([]);
    expect(shop.procedures.get("beacon-moisture")?.steps.length).toBe(
      shop.procedures.get("lamp-moisture")?.steps.length,
    );
  });

  it("cannot drop the rules that keep fuel vapour safe", () => {
    const shop = read(inShop("evap-leak", ({ medium: _medium, limits: _limits, ...file }) => file));
    expect(shop.problems).toEqual([]);
    const builtIn = builtInProcedures.find((p) => p.id === "evap-leak");
    expect(builtIn?.medium).toBeDefined();
    expect(shop.procedures.get("evap-leak")?.medium).toEqual(builtIn?.medium);
    const fixed = builtIn?.limits.filter((l) => !l.raisable) ?? [];
    expect(fixed.length).toBeGreaterThan(0);
    for (const limit of fixed) expect(shop.procedures.get("evap-leak")?.limits).toContainEqual(limit);
  });

  it("is left out whole where a name in it is misspelt", () => {
    const text = inShop("lamp-moisture", (file) => ({ ...file, id: "mine", start: ["vent open", "fitted"] }));
    const shop = read(text);
    expect(shop.procedures.has("mine")).toBe(false);
    expect(shop.problems.map((p) => p.message)).toEqual(["No condition is called `vent open`."]);
    expect(shop.problems[0]?.advice).toBe("Perhaps `vents open` is meant.");
  });

  it("names the key that nothing reads and the one that is missing", () => {
    expect(findings("procedures:\n  - id: mine\n    titel: X\n").map((f) => f.split(" → ")[0])).toContain(
      "«titel» `titel` is no key of a procedure.",
    );
    expect(read("procedures:\n  - id: mine\n").problems.map((p) => p.message)).toContain(
      "The procedure lacks `steps`.",
    );
    expect(read("procedures: 3\n").problems.length).toBe(1);
  });
});

describe("a hostile shop file", () => {
  it("gives findings inside the text, whatever is in it", () => {
    const edit = fc.tuple(fc.nat({ max: 1500 }), fc.nat({ max: 6 }), fc.string({ maxLength: 4 }));
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
        let text = example;
        for (const [at, remove, insert] of edits) text = text.slice(0, at) + insert + text.slice(at + remove);
        for (const { range, message } of read(text).problems) {
          expect(range.from, message).toBeGreaterThanOrEqual(0);
          expect(range.to, message).toBeGreaterThanOrEqual(range.from);
          expect(range.to, message).toBeLessThanOrEqual(text.length);
        }
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    ["binary", "\u0000\u0001\u0002"],
    ["ten megabytes", "altitude: 1 m\n".repeat(750_000)],
    ["a thousand brackets", `instruments: ${"[".repeat(1000)}`],
    ["a key that is no key", "__proto__: { altitude: 3 m }\nconstructor: 1\n"],
    ["a list", "- 1\n"],
  ])("%s is a finding", (_what, text) => {
    expect(read(text).problems.length).toBeGreaterThan(0);
    expect(read(text).procedures.size).toBe(builtInProcedures.length);
  });

  it("is not there for notes without one", () => {
    expect(noShop(builtInProcedures)).toMatchObject({ present: false, problems: [] });
  });
});
