import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { allUnitSpellings, dimensions, fromSI, readUnit, toSI } from "../../server/src/units/index.ts";
import { fold, lookUp, preferredSpellings, UNIT_TABLE } from "../../server/src/units/unit-table.ts";
import { relative, unit } from "./helpers.ts";

const anyUnit = fc.constantFrom(...allUnitSpellings());
/** Single units, prefixed ones too, without those that the trade reads against the rules (`lb.ft`). */
const singles = UNIT_TABLE.filter((entry) => !entry.symbol.includes(".") && !entry.symbol.includes("/"))
  .flatMap(preferredSpellings)
  .filter((spelling) => !spelling.includes(" "));
const single = fc.constantFrom(...singles);
/** Denormal numbers lose digits in any arithmetic, so they are left out. */
const number = fc.double({ min: -1e6, max: 1e6, noNaN: true }).filter((x) => x === 0 || Math.abs(x) > 1e-200);

describe("for any unit", () => {
  it("there and back is the same number", () => {
    fc.assert(
      fc.property(anyUnit, number, (spelling, value) => {
        const u = unit(spelling);
        const allowed = 1e-13 * (Math.abs(value) + u.offset / u.factor);
        expect(Math.abs(fromSI(toSI(value, u), u) - value)).toBeLessThanOrEqual(allowed);
      }),
    );
  });

  it("converting by way of a third unit changes nothing", () => {
    fc.assert(
      fc.property(anyUnit, anyUnit, number, (a, b, value) => {
        fc.pre(unit(a).dimension === unit(b).dimension && unit(a).offset === 0 && unit(b).offset === 0);
        const there = fromSI(toSI(value, unit(a)), unit(b));
        expect(relative(fromSI(toSI(there, unit(b)), unit(a)), value)).toBeLessThan(1e-12);
      }),
    );
  });

  it("powers have three spellings", () => {
    fc.assert(
      fc.property(single, fc.constantFrom(2, 3), (spelling, power) => {
        fc.pre(!lookUp(fold(spelling + power)));
        const plain = unit(`${spelling}${power}`);
        for (const written of [`${spelling}^${power}`, `${spelling}${power === 2 ? "²" : "³"}`]) {
          expect(unit(written)).toMatchObject({ factor: plain.factor, dimension: plain.dimension });
        }
        expect(plain.dimension).toBe(dimensions.toPower(unit(spelling).dimension, power));
        expect(relative(plain.factor, unit(spelling).factor ** power)).toBeLessThan(1e-14);
      }),
    );
  });
});

describe("for any two units", () => {
  it("products and quotients are those of their factors", () => {
    fc.assert(
      fc.property(single, single, single, (a, b, c) => {
        fc.pre([`${a}.${b}`, `${a}/${b}`, `${b}.${c}`].every((written) => !lookUp(fold(written))));
        fc.pre(![`${a}/${b}/${c}`, `${a}.${b}/${c}`].some((written) => lookUp(fold(written))));
        const [x, y, z] = [unit(a), unit(b), unit(c)];
        expect(relative(unit(`${a}.${b}`).factor, x.factor * y.factor)).toBeLessThan(1e-14);
        expect(unit(`${a}.${b}`).dimension).toBe(dimensions.times(x.dimension, y.dimension));
        expect(relative(unit(`${a}/${b}`).factor, x.factor / y.factor)).toBeLessThan(1e-14);
        expect(unit(`${a}/${b}`).dimension).toBe(dimensions.over(x.dimension, y.dimension));
        const twice = unit(`${a}/${b}/${c}`);
        const grouped = unit(`${a}/(${b}.${c})`);
        expect(relative(twice.factor, grouped.factor)).toBeLessThan(1e-14);
        expect(relative(twice.factor, x.factor / y.factor / z.factor)).toBeLessThan(1e-14);
        expect(twice.dimension).toBe(grouped.dimension);
      }),
    );
  });
});

describe("for any text", () => {
  const scraps = fc.constantFrom(
    ..."psi kPa m s µ Ω ° ( ) [ ] . / · ^ - 2 ³ in a g H2O deg C F ' \" % 1 é 😀".split(" "),
    " ",
  );
  const text = fc.oneof(
    fc.string({ unit: "grapheme", maxLength: 20 }),
    fc.array(scraps, { maxLength: 8 }).map((s) => s.join("")),
  );

  it("it is read, or its bad part lies inside and every offer can be read", () => {
    fc.assert(
      fc.property(text, (spelling) => {
        const reading = readUnit(spelling);
        if (reading.ok) {
          expect(reading.unit.factor).toBeGreaterThan(0);
          expect(reading.unit.spelling).toBe(spelling);
          return;
        }
        expect(reading.from).toBeGreaterThanOrEqual(0);
        expect(reading.to).toBeLessThanOrEqual(spelling.length);
        expect(reading.from).toBeLessThanOrEqual(reading.to);
        for (const near of reading.nearest) expect(readUnit(near), near).toMatchObject({ ok: true });
      }),
      { numRuns: 2000 },
    );
  });

  it("folding keeps every place", () => {
    fc.assert(
      fc.property(text, (spelling) => {
        expect(fold(spelling)).toHaveLength(spelling.length);
      }),
    );
  });
});
