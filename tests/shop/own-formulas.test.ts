// Formulas of the shop's own. Values and uncertainties are worked out here by plain arithmetic after JCGM 100:2008
// (5.1.2, clause from memory), by random draws (JCGM 101:2008), or held against the same formula written in the note.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";
import { quantityOf, rulesOf } from "../support/values.ts";

/** Invented: what a sprayer's boom lays down, and smaller things. */
const SHOP = `units:
  can: 20 L
materials:
  flowable silicone: { cure: 3 mm in 24 h at 23 degC and 50 % }
formulas:
  depth laid down:
    says: what a boom lays down on a surface
    takes:
      nozzle flow: { unit: L/min, says: flow of one nozzle }
      speed: { unit: km/h, says: driving speed, range: 3 to 20 km/h }
      spacing: { unit: m, says: distance between nozzles, default: 0.50 m ± 0.01 m, range: at least 0.1 m }
    formula: nozzle flow / (speed * spacing)
    unit: L/m2
    range: at most 0.1 L/m2
    holds: Nozzles alike.
    assumes: [no overlap at the ends, nothing drifts away]
    source: volume over area, by plain arithmetic
    caution: Wear what the label of the agent asks for.
  twice laid down: { takes: { q: L/min, v: km/h }, formula: "2 * depth laid down(q, speed: v)", unit: L/m2, source: the same }
  hole: { takes: { flow: L/min, drop: kPa }, formula: "orifice size(flow, drop: drop, gas: nitrogen)", unit: mm, source: built in }
  cured: { takes: { d: mm }, formula: "cure time(d, material: flowable silicone)", unit: h, source: built in }
  above ambient: { takes: { p: kPa(a), around: { unit: kPa(a), default: ambient pressure } }, formula: p - around, unit: kPa, source: definition }
  warmer: { takes: { t: degC, by: { unit: K, default: 5 K } }, formula: t + by, unit: degC, source: definition }
  usual draw: { formula: 0.35 A + 150 mA, unit: A, source: measured in spring }
  square: { takes: { x: m }, formula: x ^ 2, unit: m2, source: definition }
`;

const value = (lines: string, name: string) => quantityOf(readings(lines), name, { shop: SHOP });
const messages = (lines: string) =>
  analyzeText(readings(lines), { shop: SHOP }).findings.map(({ rule, message }) => `${rule}: ${message}`);
const limit = (halfWidth: number): number => halfWidth / Math.sqrt(3);

const READ = "q: 1.20 L/min ± 0.06 L/min\nv: 8.0 km/h ± 0.3 km/h\n";

describe("formulas of the shop's own", () => {
  it("are read without a finding", () => {
    expect(readShop(SHOP, readYaml, builtInProcedures).problems).toEqual([]);
  });

  it("give value and uncertainty, that of a default included", () => {
    const found = value(`${READ}d = depth laid down(q, v)`, "d");
    const [q, v, w] = [1.2 / 60_000, 8 / 3.6, 0.5];
    const litres = (1000 * q) / (v * w);
    expect(found.unit).toBe("L/m2");
    expect(found.value).toBeCloseTo(litres, 12);
    const shares = [limit(0.06) / 1.2, limit(0.3) / 8, limit(0.01) / 0.5];
    expect(found.uncertainty).toBeCloseTo(2 * litres * Math.hypot(...shares), 12);
  });

  it("take values by name, in any unit that fits, the shop's own too", () => {
    const found = value(
      "d [mm] = depth laid down(speed: 2 m/s, nozzle flow: 0.06 can/min, spacing: 20 in)",
      "d",
    );
    expect(found.value).toBeCloseTo((1.2 / 60_000 / (2 * 0.508)) * 1000, 9);
    expect(found.uncertainty).toBeNull();
  });

  it("take a reading that goes in twice for the one thing that it is", () => {
    // x / (x · w) does not depend on x at all.
    const lines =
      "q: 1.20 L/min ± 0.06 L/min\nw: 0.5 m\nratio = depth laid down(q, 8 km/h, w) / depth laid down(q, 4 km/h, w)";
    expect(value(lines, "ratio").value).toBeCloseTo(0.5, 12);
    expect(value(lines, "ratio").uncertainty ?? 0).toBeCloseTo(0, 12);
  });

  it("rest on one and the same default wherever they are called", () => {
    const lines = `${READ}one = depth laid down(q, v)\nother = depth laid down(q, v)\nnone = one - other`;
    expect(value(lines, "none").uncertainty ?? 0).toBeCloseTo(0, 12);
  });

  it("call each other and the built-in functions, with words and materials", () => {
    expect(value(`${READ}d = twice laid down(q, v)`, "d").value).toBeCloseTo(
      2 * value(`${READ}d = depth laid down(q, v)`, "d").value,
      12,
    );
    for (const [own, written] of [
      ["hole(4 L/min, 3 kPa)", 'orifice size(4 L/min, drop: 3 kPa, gas: "nitrogen")'],
      ["cured(3 mm)", "cure time(3 mm, material: flowable silicone)"],
    ]) {
      const a = value(`y = ${own}`, "y");
      const b = value(`y [${a.unit}] = ${written}`, "y");
      expect(a.value).toBeCloseTo(b.value, 10);
      expect(a.uncertainty ?? 0).toBeCloseTo(b.uncertainty ?? 0, 10);
    }
  });

  it("keep gauge and absolute, points and differences apart", () => {
    expect(value("ambient pressure: 98.6 kPa(a)\np = above ambient(150 kPa(a))", "p").value).toBeCloseTo(
      51.4,
      9,
    );
    expect(messages("p = above ambient(150 kPa)")).toEqual([
      expect.stringContaining("unit/scale-point: `above ambient` needs an absolute pressure for its p"),
    ]);
    expect(value("t: 20 degC\nu = warmer(t, 3 K)", "u")).toMatchObject({ unit: "degC" });
    expect(value("t: 20 degC\nu = warmer(t, 3 K)", "u").value).toBeCloseTo(23, 9);
    expect(messages("u = warmer(20 degC, 3 degC)")).toEqual([expect.stringContaining("unit/scale-point")]);
  });

  it("without values are constants", () => {
    expect(value("i = usual draw() + 1 A", "i")).toMatchObject({ value: 1.5, unit: "A" });
  });

  it("are simulated where first order will not do, as the formula written out is", () => {
    const wide = "x: 1.0 m ± 0.9 m\n";
    const own = value(`${wide}y = square(x)`, "y");
    const written = value(`${wide}y [m2] = x ^ 2`, "y");
    expect(own.uncertainty).toBeCloseTo(written.uncertainty ?? Number.NaN, 9);
    // First order alone says 2 · 2 · 1 · 0.9/√3.
    expect(own.uncertainty).toBeGreaterThan(1.1 * ((4 * 0.9) / Math.sqrt(3)));
  });

  it("agree with random draws of the test's own", () => {
    let state = 20_310_304;
    const draw = () => {
      state = (state * 48_271) % 2_147_483_647;
      return (2 * state) / 2_147_483_647 - 1;
    };
    const drawn = Array.from({ length: 20_000 }, () => {
      const [q, v, w] = [1.2 + 0.06 * draw(), (8 + 0.3 * draw()) / 3.6, 0.5 + 0.01 * draw()];
      return q / 60 / (v * w);
    });
    const mean = drawn.reduce((sum, x) => sum + x, 0) / drawn.length;
    const spread = Math.sqrt(drawn.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (drawn.length - 1));
    const { uncertainty } = value(`${READ}d = depth laid down(q, v)`, "d");
    expect((uncertainty ?? 0) / (2 * spread)).toBeCloseTo(1, 1);
  });

  it("show their working: equation, what they rest on, source, caution", () => {
    const analysis = analyzeText(readings(`${READ}d = depth laid down(q, v)`), { shop: SHOP });
    const named = analysis.values.find(({ name }) => name === "d");
    expect(named && analysis.working(named)).toMatchObject({
      equations: ["depth laid down: nozzle flow / (speed * spacing)"],
      assumptions: [
        "no overlap at the ends",
        "nothing drifts away",
        "spacing 0.50 m ± 0.01 m, as the shop's `depth laid down` has it",
      ],
      sources: ["volume over area, by plain arithmetic"],
      cautions: ["Wear what the label of the agent asks for."],
      contributions: [
        { says: "± of q" },
        { says: "± of v" },
        { says: expect.stringContaining("assumed: spacing") },
      ],
    });
  });
});

it("a formula of the shop file gives what the same formula written in the note gives", () => {
  const figure = fc.integer({ min: 100, max: 9999 }).map((n) => n / 100);
  const forms = [
    "a + b",
    "a - 2 * b",
    "a * b / (a + b)",
    "a ^ 2 / b",
    "-(a / b) * a + b",
    "(a + b) * (a / b) ^ 3",
  ];
  fc.assert(
    fc.property(fc.constantFrom(...forms), figure, figure, figure, (form, a, b, off) => {
      const shop = `formulas:\n  f: { takes: { a: mm, b: mm }, formula: ${JSON.stringify(form)}, unit: mm, source: test }\n`;
      // The second value rests on the first, so the two are correlated.
      const given = `a: ${a} mm ± ${off / 100} mm\nc: ${b} mm\nb = c + a / 7\n`;
      const own = analyzeText(readings(`${given}y [mm] = f(a, b)`), { shop }).values.at(-1)?.shown;
      const written = analyzeText(readings(`${given}y [mm] = ${form}`)).values.at(-1)?.shown;
      if (own?.kind !== "quantity" || written?.kind !== "quantity") throw new Error("no value");
      const close = (x: number, y: number) => Math.abs(x - y) <= 1e-9 * Math.max(1, Math.abs(y));
      expect(close(own.value, written.value)).toBe(true);
      expect(close(own.uncertainty ?? 0, written.uncertainty ?? 0)).toBe(true);
    }),
    { numRuns: 150 },
  );
});

describe("findings in a note", () => {
  it("outside a range, of a value that goes in or of the result", () => {
    expect(messages("q: 1.2 L/min\nd = depth laid down(q, 25 km/h)")).toEqual([
      "reading/out-of-validity: The shop's `depth laid down` holds for its speed: 3 to 20 km/h. Here it is 25 km/h.",
    ]);
    expect(messages("d = depth laid down(2 L/min, 3 km/h, 0.5 m)")).toEqual([]);
    expect(messages("d = depth laid down(200 L/min, 3 km/h)")).toEqual([
      "reading/out-of-validity: The shop's `depth laid down` holds for its result: at most 0.1 L/m2. Here it is 8 L/m2.",
    ]);
  });

  it("no value, a wrong kind, too much, too little, a name misspelt", () => {
    expect(messages("d = depth laid down(1 L/min, 0 km/h)")[0]).toBe(
      "reading/out-of-validity: `depth laid down` has no value for these numbers. This divides by zero. It holds for: Nozzles alike. speed 3 to 20 km/h; spacing at least 0.1 m; result at most 0.1 L/m2",
    );
    expect(messages("d = depth laid down(1 L, 5 km/h)")).toEqual([
      "unit/mismatch: `depth laid down` needs a volume flow (L/min) for its nozzle flow and gets a volume (L).",
    ]);
    expect(messages("d = depth laid down(1 L/min)")).toEqual([
      "note/syntax: `depth laid down` needs its speed: driving speed.",
    ]);
    expect(messages("d = usual draw(3)")).toEqual([
      "note/syntax: `usual draw` takes 0 values and gets more.",
    ]);
    const slip = analyzeText(readings("d = depth layd down(1 L/min, 5 km/h)"), { shop: SHOP }).findings[0];
    expect(slip?.advice).toBe("Did you mean `depth laid down`?");
  });

  it("a formula with a mistake is told as such, once", () => {
    const shop =
      "formulas:\n  f: { takes: { x: m }, formula: x + 1 s, unit: m, source: t }\n  g: { takes: { x: m }, formula: f(x), unit: m, source: t }\n";
    for (const name of ["f", "g"]) {
      expect(analyzeText(readings(`y = ${name}(1 m)\nz = y * 2`), { shop }).findings).toMatchObject([
        {
          rule: "reading/undefined",
          message: `The shop's formula \`${name}\` has a mistake in the shop file, so it gives no value.`,
        },
      ]);
    }
  });

  it("a reading may have the name of a formula or of what it takes", () => {
    expect(
      rulesOf(readings("speed: 5 km/h\nsquare: 3 m\ny = square(square) + 1 m * speed * 1 h"), { shop: SHOP }),
    ).toEqual([]);
  });
});
