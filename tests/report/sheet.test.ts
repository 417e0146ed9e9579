import { describe, expect, it } from "vitest";
import { blockSheet } from "../../server/src/report/sheet/block-sheet.ts";
import { escapeHtml, html, minus, sentence } from "../../server/src/report/sheet/html.ts";
import { plotSvg } from "../../server/src/report/sheet/plot.ts";
import { analyzeText, readings } from "../support/analyze-text.ts";

/** A block's sheet as text: one line per row, cells apart by bars. */
function rows(note: string, block = 0, shop?: string): string[] {
  const analysis = analyzeText(note, { shop });
  const found = analysis.note.blocks[block];
  if (!found) throw new Error("no such block");
  return blockSheet(analysis, found)
    .text.split(/<\/tr>|<\/caption>/)
    .map((row) =>
      row
        .replace(/<title>.*?<\/title>/g, "")
        .replace(/<\/t[dh]>/g, " | ")
        .replace(/<[^>]+>/g, "")
        .replace(/&lt;/g, "<")
        .replace(/\s+/g, " ")
        .trim(),
    )
    .filter((row) => row !== "");
}

const withFrontMatter = (body: string): string => `---\njob: test\ndate: 2031-03-04\n---\n\n${body}`;

describe("a readings block on the sheet", () => {
  it("keeps the digits of a reading, and shows what formulas give", () => {
    // 1 psi is 6894.757 Pa (NIST SP 811, table B.8): 0.80 psi × 310 cm² is 170.99 N.
    const shown = rows(
      readings("test pressure: 0.80 psi\nlens area: 310 cm2\nforce [N] = test pressure * lens area"),
    );
    expect(shown[0]).toBe("Readings");
    expect(shown[2]).toMatch(/^test pressure \| 0\.80 psi \| 0\.006 psi \|/);
    expect(shown[4]).toMatch(/^force \| 171\.\d N \| \d\.\d N \| = test pressure \* lens area \|/);
  });

  it("shows repeated readings as their mean, and how each was taken", () => {
    const shown = rows(readings("draw: 9.1, 9.3, 9.2 A via C1 at 09:05   # warm"));
    expect(shown[2]).toMatch(
      /^drawwarm \| 9\.2\d? A \| .* \| mean of 9\.1, 9\.3, 9\.2 A, with C1, at 09:05 \|/,
    );
  });

  it("puts a finding in words under its line, and an accepted one with its reason", () => {
    const shown = rows(
      readings("supply current: 9,1 A\nroom humidity: 140 %   # accept reading/implausible: bench test"),
    );
    expect(shown.join("\n")).toMatch(/Error\. .*decimal/);
    expect(shown.join("\n")).toMatch(/Accepted \(warning\)\. .* Reason given: bench test/);
    expect(shown.join("\n")).not.toContain("accept reading/implausible: bench test");
  });

  it("says where nothing can be worked out, and what was written", () => {
    const shown = rows(readings("p: 0.40 pis\nq = p * 2"));
    expect(shown[2]).toBe("p | 0.40 pis: cannot be worked out | |");
  });
});

describe("a limits block on the sheet", () => {
  it("tells the verdict in words, with the room that is left", () => {
    const note = withFrontMatter(
      "```readings\na: 0.80 psi ± 0.01 psi\nb: 0.99 psi ± 0.05 psi\nc: 1.20 psi\n```\n\n```limits\na <= 1 psi   source: plate\nb <= 1 psi\nc <= 1 psi\nd <= 1 psi\n```\n",
    );
    const shown = rows(note, 1);
    expect(shown[2]).toMatch(/^a <= 1 psi \| 0\.800? psi ± 0\.012? psi \| 0\.20 psi \| holds \| plate \|/);
    expect(shown[3]).toContain("not proven: inside, but by less than the uncertainty");
    expect(shown.find((row) => row.startsWith("c <= 1 psi"))).toContain("0.20 psi beyond | exceeded");
    expect(shown.find((row) => row.startsWith("d <= 1 psi"))).toContain("cannot be decided");
  });
});

describe("a steps block on the sheet", () => {
  it("is a timeline with days, times, places, ends, and what is still to do", () => {
    const shown = rows(
      withFrontMatter(
        "```steps\n08:40  assess: droplets\n09:50  dry: warm air, until 11:40\n2031-03-05\n07:30  retest [lower seam]: pass\n--:--  refit\n```\n",
      ),
    );
    expect(shown).toEqual([
      "Steps (3 done, 1 still to do)",
      "Time | Step | Place | Remark |",
      "2031-03-04 |",
      "08:40 | assess | | droplets |",
      "09:50until 11:40 (1 h 50 min) | dry | | warm air |",
      "2031-03-05 |",
      "07:30 | retest | lower seam | pass |",
      "to do | refit | | |",
    ]);
  });
});

describe("a series on the sheet", () => {
  const note = withFrontMatter(
    "```series decay\nt [s], p [psi], T [degC]\n0, 0.70, 19\n60, 0.61, 19\n120, 0.53, 20\n```\n",
  );

  it("is plotted column by column, and says what the plot shows", () => {
    const analysis = analyzeText(note);
    const block = analysis.note.blocks[0];
    const page = block ? blockSheet(analysis, block).text : "";
    expect(page.match(/<svg class="wm-plot"/g)).toHaveLength(2);
    expect(page).toContain('aria-label="decay: p in psi against t in s, 3 points, from 0.7 to 0.53"');
    expect(page).toContain("p in psi</text>");
  });

  it("puts points where they belong", () => {
    const page =
      plotSvg({
        says: "",
        x: "x",
        y: "y",
        points: [
          [0, 0],
          [5, 10],
          [10, 5],
        ],
      })?.text ?? "";
    const [start, middle, end] = [...page.matchAll(/cx="([\d.]+)" cy="([\d.]+)"/g)].map(([, x, y]) => [
      Number(x),
      Number(y),
    ]);
    // Zero lies at the corner of the axes, ten at the far ends; half way is half way.
    expect(start).toEqual([64, 178]);
    expect(middle).toEqual([344, 28]);
    expect(end).toEqual([624, 103]);
  });

  it("keeps the spikes of a long log, and draws no line through points out of order", () => {
    const long = Array.from({ length: 100_000 }, (_, i) => [i, i === 54_321 ? 9 : 1] as const);
    const page = plotSvg({ says: "", x: "t", y: "p", points: long })?.text ?? "";
    expect(page.length).toBeLessThan(60_000);
    // The scale goes from 0 to 10 over 150 units above the axis at 178, so 9 stands at 43.
    expect(page).toMatch(/,43L/);
    const back =
      plotSvg({
        says: "",
        x: "t",
        y: "p",
        points: [
          [2, 1],
          [1, 2],
        ],
      })?.text ?? "";
    expect(back).not.toContain("wm-line");
    expect(back).toContain("<circle");
  });

  it("leaves a plot of nothing out, and gives equal values a height", () => {
    expect(plotSvg({ says: "", x: "t", y: "p", points: [[1, 1]] })).toBeUndefined();
    expect(
      plotSvg({
        says: "",
        x: "t",
        y: "p",
        points: [
          [0, 3],
          [1, 3],
        ],
      })?.text,
    ).not.toContain("NaN");
  });
});

describe("HTML", () => {
  it("escapes every text that is put in, and nothing twice", () => {
    const text = `<b a="1" b='2'>&`;
    expect(html`<p>${text}${html`<i>${text}</i>`}</p>`.text).toBe(
      `<p>${escapeHtml(text)}<i>${escapeHtml(text)}</i></p>`,
    );
    expect(escapeHtml(text)).toBe("&lt;b a=&quot;1&quot; b=&#39;2&#39;&gt;&amp;");
  });

  it("keeps names of a message as code, and escapes them too", () => {
    expect(sentence("Did you mean `<psi>`?").text).toBe("Did you mean <code>&lt;psi&gt;</code>?");
    expect(minus("-4.9 degC ± 1.2 degC, key-off")).toBe("−4.9 degC ± 1.2 degC, key-off");
  });
});
