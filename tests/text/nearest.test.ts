import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { editDistance, nearest } from "../../server/src/text/nearest.ts";

describe("edit distance", () => {
  it("counts insertions, deletions, replacements and swaps", () => {
    // Source: the classic example pairs of the literature on string distance, from memory.
    expect(editDistance("kitten", "sitting")).toBe(3);
    expect(editDistance("saturday", "sunday")).toBe(3);
    expect(editDistance("psi", "pis")).toBe(1);
    expect(editDistance("", "abc")).toBe(3);
    expect(editDistance("same", "same")).toBe(0);
  });

  it("is symmetric, and the cap only hides what lies above it", () => {
    const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), maxLength: 7 });
    fc.assert(
      fc.property(word, word, fc.integer({ min: 0, max: 5 }), (a, b, cap) => {
        const distance = editDistance(a, b);
        expect(editDistance(b, a)).toBe(distance);
        const capped = editDistance(a, b, cap);
        if (distance <= cap) expect(capped).toBe(distance);
        else expect(capped).toBeGreaterThan(cap);
      }),
    );
  });
});

describe("nearest words", () => {
  it("puts the closest first and breaks ties by the alphabet", () => {
    expect(nearest("presure", ["pressures", "pressure", "procedure"])).toEqual(["pressure", "pressures"]);
    expect(nearest("cat", ["hat", "bat", "rat", "mat"])).toEqual(["bat", "hat", "mat"]);
  });

  it("takes a difference in case alone for the answer", () => {
    expect(nearest("PSI", ["psi", "psia", "psig"])).toEqual(["psi"]);
    expect(nearest("MPA", ["mPa", "MPa"])).toEqual(["MPa", "mPa"]);
  });

  it("stays silent on short words and far ones", () => {
    expect(nearest("q", ["a", "b"])).toEqual([]);
    expect(nearest("zz", ["za", "az"])).toEqual([]);
    expect(nearest("voltage", ["pressure", "flow"])).toEqual([]);
  });

  it("gives at most as many as asked, and never the word itself", () => {
    expect(nearest("flow", ["flow", "flaw", "glow", "slow"], 2)).toEqual(["flaw", "glow"]);
  });
});
