import { describe, expect, it } from "vitest";
import { cardAsMarkdown, cardAsText } from "../../server/src/ide/card.ts";
import { hover } from "../../server/src/ide/hover.ts";
import { inlayHints } from "../../server/src/ide/inlay-hints.ts";
import { type At, blockAt, FRONT_MATTER, noteAt, shop } from "./note-at.ts";

const under = (place: At): { text: string; card: string } | undefined => {
  const hovered = hover(place.analysis, shop, place.offset);
  return (
    hovered && {
      text: place.text.slice(hovered.range.from, hovered.range.to),
      card: cardAsText(hovered.card),
    }
  );
};

const lamp = "test pressure: 0.80 psi via P1\nlens area: 310 cm2\n";

describe("hover", () => {
  // 0.80 psi × 310 cm²: 1 psi is 6894.757 Pa (NIST SP 811, table B.8), so 5515.806 Pa × 0.0310 m² = 170.99 N.
  it("shows the working of a name, where it is defined and where it is used", () => {
    for (const formula of [
      "lens fo$0rce [N] = force on(test pressure, lens area)",
      "lens force [N] = force on(test pressure, lens area)\ntwice = 2 * lens f$0orce",
    ]) {
      const found = under(blockAt("readings", lamp + formula));
      expect(found?.text).toBe("lens force");
      expect(found?.card).toContain("lens force ≈ 171 N");
      expect(found?.card).toContain("force on(test pressure, lens area)");
      expect(found?.card).toContain("accuracy of P1");
      expect(found?.card).toContain("Caution");
    }
  });

  it("says what a unit is, a function, an instrument, a step and the procedure", () => {
    expect(under(blockAt("readings", "p: 12.0 inH$02O"))?.card).toContain("Gauge pressure");
    const size = under(blockAt("readings", `${lamp}flow: 1 L/min\ns = orif$0ice size(flow, test pressure)`));
    expect(size?.text).toBe("orifice size");
    expect(size?.card).toContain("Source: Isentropic nozzle flow");
    expect(under(blockAt("readings", "p: 0.80 psi via P$01"))?.card).toContain("range 0 to 2 psi");
    const step = under(blockAt("steps", "09:10  smoke t$0est: 0.8 psi"));
    expect(step?.text).toBe("smoke test");
    expect(step?.card).toMatch(/^pressurize/);
    expect(step?.card).toContain("power isolated");
    expect(under(noteAt("---\njob: 2031-0001\nprocedure: lamp-m$0oisture\n---\n"))?.card).toContain(
      "Moisture in a lamp",
    );
  });

  it("has nothing to say about prose and unknown names", () => {
    expect(under(noteAt(`${FRONT_MATTER}The len$0s.`))).toBeUndefined();
    expect(under(blockAt("readings", "a = nowhere to be f$0ound"))).toBeUndefined();
  });

  it("takes the meaning from markup that stands in a note", () => {
    const place = blockAt("readings", "a: 2 mm\nb = a$0 # ```\n");
    const hovered = hover(place.analysis, shop, place.offset);
    const markdown = cardAsMarkdown({ title: "*a* [x](y) <b>", parts: hovered?.card.parts ?? [] });
    expect(markdown).toContain("\\*a\\* \\[x\\](y) \\<b\\>");
  });
});

describe("inlay hints", () => {
  const hintsOf = (lines: string): string[] => {
    const { analysis, text } = blockAt("readings", `${lines}$0`);
    const whole = { from: 0, to: text.length };
    return inlayHints(analysis, whole).map(({ at, text: hint }) => {
      const start = text.lastIndexOf("\n", at - 1) + 1;
      return `${text.slice(start, at)}|${hint}`;
    });
  };

  it("show what a formula gives", () => {
    expect(hintsOf(`${lamp}lens force [N] = test pressure * lens area`)).toEqual([
      expect.stringMatching(/^lens force \[N\] = test pressure \* lens area\|≈ 171 N ± \d+ N$/),
    ]);
  });

  it("add only the uncertainty to a recorded result, and the new value to a stale one", () => {
    const [current] = hintsOf(`${lamp}lens force [N] = test pressure * lens area ≈ 171 N`);
    expect(current).toMatch(/≈ 171 N\|± \d+ N$/);
    const [stale] = hintsOf(`${lamp}lens force [N] = test pressure * lens area ≈ 200 N`);
    expect(stale).toMatch(/lens area\|≈ 171 N/);
  });

  it("show the mean of repeated readings, and nothing for a single one", () => {
    // (9.1 + 9.3 + 9.2) / 3 = 9.2
    expect(hintsOf("supply current: 9.1, 9.3, 9.2 A\nflow: 1 L/min")).toEqual([
      expect.stringMatching(/^supply current: 9.1, 9.3, 9.2 A\|mean 9\.20? A ± /),
    ]);
  });

  it("are silent where no value can be worked out", () => {
    expect(hintsOf("a = b\nb = a\nc = 2 *")).toEqual([]);
  });

  it("are only given for the lines asked for", () => {
    const { analysis, text } = blockAt("readings", `${lamp}f = test pressure * lens area\ng = 2 * f$0`);
    const last = text.indexOf("g = ");
    expect(inlayHints(analysis, { from: last, to: last + 3 })).toHaveLength(1);
  });
});
