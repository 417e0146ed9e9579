import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import MarkdownIt from "markdown-it";
import { describe, expect, it } from "vitest";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { extendPreview, type PreviewHost } from "../../server/src/preview/preview.ts";
import { ShopsByText } from "../../server/src/preview/shops.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { SHEET_STYLE } from "../../server/src/report/sheet/sheet-style.ts";

const root = join(import.meta.dirname, "../..");
const samples = readdirSync(join(root, "samples")).filter(
  (file) => file.endsWith(".md") && file !== "README.md",
);
const sample = (file: string): string => readFileSync(join(root, "samples", file), "utf8");

function preview(
  more: Partial<PreviewHost> = {},
  options = { html: true },
): { md: MarkdownIt; faults: unknown[] } {
  const faults: unknown[] = [];
  const shops = new ShopsByText(readYaml, () => builtInProcedures);
  const host: PreviewHost = {
    enabled: () => true,
    noteUri: () => "file:///notes/a.md",
    openShops: () => [],
    shopText: () => sample("shop.yaml"),
    report: (fault) => faults.push(fault),
    ...more,
  };
  const files = {
    shop: (uri: string | undefined) => shops.read(uri === undefined ? undefined : host.shopText(uri)),
    surroundings: () => ({}),
  };
  return { md: extendPreview(new MarkdownIt(options), readYaml, files, host), faults };
}

const plain = (text: string): string => new MarkdownIt({ html: true }).render(text);

describe("the job sheet in a markdown page", () => {
  it("shows every sample with all its blocks, and nothing that runs", () => {
    for (const file of samples) {
      const { md, faults } = preview();
      const page = md.render(sample(file));
      expect([file, faults]).toEqual([file, []]);
      const blocks = sample(file).match(/^```(?:readings|series|limits|steps)/gm)?.length ?? 0;
      const shown = page.match(
        /<(?:table class="wm-table wm-(?:readings|limits|steps)|figure class="wm-figure)/g,
      );
      expect([file, shown?.length]).toEqual([file, blocks]);
      expect(page).not.toMatch(/<script|<style|\sstyle=|\son[a-z]+=|javascript:/i);
      expect(page).not.toMatch(/>undefined<|"undefined"/);
      expect(page).not.toContain("NaN");
    }
  });

  it("leaves other markdown and other fences alone", () => {
    const { md } = preview();
    for (const text of [
      "# Title\n\n```readings\nx: 1 A\n```\n",
      "---\ntitle: x\n---\n\n```js\nlet a;\n```\n",
      readFileSync(join(root, "samples/README.md"), "utf8"),
      readFileSync(join(root, "README.md"), "utf8"),
    ]) {
      expect(md.render(text)).toBe(plain(text));
    }
    const page = md.render("---\njob: 1\n---\n\n```js\nlet a;\n```\n");
    expect(page).toContain('<pre><code class="language-js">let a;');
  });

  it("finds blocks in lists and quotes, and with tildes", () => {
    const { md } = preview();
    const page = md.render(
      "---\njob: 1\n---\n\n> ~~~readings\n> x: 1 A\n> ~~~\n\n- ```steps\n  09:10  wash\n  ```\n",
    );
    expect(page).toContain("wm-readings");
    expect(page).toContain("wm-steps");
  });

  it("shows the fence as it is where sheets are turned off", () => {
    const { md } = preview({ enabled: () => false });
    const text = sample("rear-lamp.md");
    expect(md.render(text)).toBe(plain(text));
  });

  it("takes the place of the editor's own table of the front matter, whichever comes first", () => {
    const { md } = preview();
    md.block.ruler.before("fence", "front_matter", (state, start) => {
      if (start !== 0) return false;
      state.push("front_matter", "", 0).map = [0, 3];
      state.line = 3;
      return true;
    });
    md.renderer.rules.front_matter = () => "<table>the editor's own</table>";
    expect(md.render("---\njob: 1\n---\n\ntext\n")).not.toContain("the editor's own");
    expect(md.render("---\ntitle: 1\n---\n\ntext\n")).toContain("the editor's own");
  });

  it("gives way to the plain page when something of ours fails", () => {
    const { md, faults } = preview({
      shopText: () => {
        throw new Error("no shop today");
      },
    });
    const text = "---\njob: 1\n---\n\n```readings\nx: 1 A\n```\n";
    expect(md.render(text)).toBe(plain(text));
    expect(faults.length).toBeGreaterThan(0);
  });

  it("asks for the shop file again at each drawing, so that a changed one shows", () => {
    let shop: string | undefined;
    const { md } = preview({ shopText: () => shop });
    const tokens = md.parse("---\njob: 1\n---\n\n```readings\nx: 9.1 A via C1\n```\n", {});
    const draw = (): string => md.renderer.render(tokens, md.options, {});
    const before = draw();
    shop = sample("shop.yaml");
    expect(draw()).not.toBe(before);
  });

  it("never throws and never lets a note's text become HTML of the page, whatever the text", () => {
    // Without HTML of the note's own, every tag on the page is the renderer's or ours.
    const { md, faults } = preview({}, { html: false });
    const piece = fc.oneof(
      fc.constantFrom(
        "```readings\n",
        "```steps\n",
        "```limits\n",
        "```series a\n",
        "```\n",
        "x: 1 A\n",
        "y = x * 2\n",
        "09:10 wash: <b onclick=1>\n",
        "t [s], p [psi]\n",
        "0, 1\n",
        "x <= 2 A source: <script>\n",
        "<img src=x onerror=1>: 3 V\n",
        "--:-- `a`\n",
        "# <i>\n",
      ),
      fc.string().map((text) => `${text}\n`),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 14 }), (pieces) => {
        const page = md.render(`---\njob: "<u>1"\n---\n\n\`\`\`readings\n${pieces.join("")}`);
        expect(page).not.toMatch(/<(?:u|b|i|script)[\s>]|<[^>]*\son(?:click|error)=/);
      }),
      { numRuns: 200 },
    );
    expect(faults).toEqual([]);
  });
});

describe("the sheet's style", () => {
  it("is the same in the preview as on a page of its own", () => {
    const css = readFileSync(join(root, "client/media/job-sheet.css"), "utf8");
    expect(css.slice(css.indexOf("*/\n") + 3)).toBe(SHEET_STYLE);
  });

  it("touches nothing outside the sheet, and fetches nothing", () => {
    const rules = SHEET_STYLE.replace(/\/\*[\s\S]*?\*\//g, "");
    for (const [, selectors = ""] of rules.matchAll(/(?:^|\})\s*([^@{}]+)\{/g)) {
      for (const selector of selectors.split(","))
        expect(selector.trim()).toMatch(/^(?:\.vscode-high-contrast )?\.wm-sheet\b/);
    }
    expect(SHEET_STYLE).not.toMatch(/url\(|@import|expression/);
  });
});
