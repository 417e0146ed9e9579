import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkVin } from "../../server/src/note/vin.ts";

/**
 * The check digit by a second way: Horner-like, the value of a letter from its place in the EBCDIC rows
 * (A–I, J–R, S–Z count 1–9, with S at 2), which is where Table III of 49 CFR 565.15 comes from (from memory).
 */
function checkDigit(vin: string): string {
  let remainder = 0;
  for (let i = 0; i < 17; i++) {
    if (i === 8) continue;
    const c = vin[i] ?? "";
    const code = c.charCodeAt(0) - 65;
    const value = /\d/.test(c) ? Number(c) : code < 9 ? code + 1 : code < 18 ? code - 8 : code - 16;
    const weight = i === 7 ? 10 : i < 7 ? 8 - i : 18 - i;
    remainder = (remainder + value * weight) % 11;
  }
  return "0123456789X"[remainder] ?? "";
}

const vinText = fc
  .array(fc.constantFrom(..."ABCDEFGHJKLMNPRSTUVWXYZ0123456789"), { minLength: 17, maxLength: 17 })
  .map((cs) => cs.join(""));

describe("the check digit of a VIN", () => {
  it("is right for seventeen ones, the number that the trade tries first (from memory)", () => {
    expect(checkVin("11111111111111111")).toEqual({ kind: "right" });
  });

  it("is 4 in the worked example of 49 CFR 565.15, Table V", () => {
    // The table adds up 411 = 37 × 11 + 4 for these characters.
    expect(checkVin("1G4AH59H45G118341")).toEqual({ kind: "right" });
    expect(checkVin("1G4AH59H55G118341")).toEqual({ kind: "wrong digit", found: "5", expected: "4" });
  });

  it("agrees with a second way of working it out", () => {
    fc.assert(
      fc.property(vinText, (vin) => {
        const expected = checkDigit(vin);
        const right = vin.slice(0, 8) + expected + vin.slice(9);
        expect(checkVin(right)).toEqual({ kind: "right" });
        const found = vin.charAt(8);
        if (found !== expected) expect(checkVin(vin)).toEqual({ kind: "wrong digit", found, expected });
      }),
    );
  });

  it("reads X for a remainder of ten", () => {
    // 8 × 1 + 2 × 1 = 10, all other characters nought.
    expect(checkVin("1000001 0 X 00000000".replaceAll(" ", ""))).toEqual({ kind: "right" });
  });

  it("names letters that no VIN has", () => {
    expect(checkVin("1111111111111111O")).toEqual({ kind: "wrong character", index: 16, character: "O" });
    expect(checkVin("1111?111111111111")).toMatchObject({ kind: "wrong character", index: 4 });
  });

  it("leaves shorter numbers of older machines alone", () => {
    expect(checkVin("T-00457")).toEqual({ kind: "not checked" });
    expect(checkVin("")).toEqual({ kind: "not checked" });
  });

  it("takes small letters, blanks and hyphens", () => {
    expect(checkVin(" 1111 1111 1111 1111-1 ")).toEqual({ kind: "right" });
  });
});
