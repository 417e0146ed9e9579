// What a preview keeps from one drawing to the next changes the time it takes, never what it shows.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import MarkdownIt from "markdown-it";
import { describe, expect, it } from "vitest";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { extendPreview, type PreviewFiles, type PreviewHost } from "../../server/src/preview/preview.ts";
import { ShopsByText } from "../../server/src/preview/shops.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { generateLongNote } from "../generate/notes.ts";

const SHOP = readFileSync(join(import.meta.dirname, "../../samples/shop.yaml"), "utf8");

class Looked {
  shops = 0;
  surroundings = 0;
  shop = SHOP;
  missing: ReadonlySet<string> = new Set();
  uri = "file:///notes/a.md";

  preview(): MarkdownIt {
    const read = new ShopsByText(readYaml, () => builtInProcedures);
    const files: PreviewFiles = {
      shop: () => {
        this.shops++;
        return read.read(this.shop);
      },
      surroundings: () => {
        this.surroundings++;
        return { missing: this.missing };
      },
    };
    const host: PreviewHost = {
      enabled: () => true,
      noteUri: () => this.uri,
      openShops: () => [],
      shopText: () => undefined,
      report: (fault) => {
        throw fault;
      },
    };
    return extendPreview(new MarkdownIt({ html: true }), readYaml, files, host);
  }
}

/** What a preview shows that has never drawn anything. */
const fresh = (text: string, { shop, missing, uri }: Looked): string => {
  const looked = new Looked();
  Object.assign(looked, { shop, missing, uri });
  return looked.preview().render(text);
};

const edits: readonly ((text: string) => string)[] = [
  (text) => text.replace("test pressure: ", "test pressure: 1"),
  (text) => text.replace("```readings", "```readings\nfirst: 1 A via C1"),
  (text) => text.replace("```steps", "```stepping"),
  (text) => text.replace(/^```$/m, "``"),
  (text) => text.replace(/^``$/m, "```"),
  (text) => text.replace("stepping", "steps"),
  (text) => text.replace("kPa", "kpa"),
  (text) => text.replace(/^procedure: .*$/m, "procedure: lamp-moisture"),
  (text) => text.replace("# A long job", "# A long job\n\n![gone](gone.jpg)"),
  (text) => text.slice(0, text.length / 2),
];

describe("a preview that is drawn again and again", () => {
  it("shows after each edit what a new one would show", () => {
    const looked = new Looked();
    const md = looked.preview();
    let text = generateLongNote(240);
    expect(md.render(text)).toBe(fresh(text, looked));
    for (const edit of edits) {
      text = edit(text);
      expect(md.render(text)).toBe(fresh(text, looked));
    }
  });

  it("sees another note, another shop file and a file that has gone", () => {
    const looked = new Looked();
    const md = looked.preview();
    const a = generateLongNote(120).replace(
      "# A",
      "![x](x.jpg)\n\n```readings\nfirst: 1 A via C1\n```\n\n# A",
    );
    const b = generateLongNote(90, 2);
    const both = (): void => {
      for (const [uri, text] of [
        ["file:///notes/a.md", a],
        ["file:///notes/b.md", b],
      ] as const) {
        looked.uri = uri;
        expect(md.render(text)).toBe(fresh(text, looked));
      }
    };
    both();
    const before = md.render(a);
    looked.missing = new Set(["x.jpg"]);
    both();
    expect(md.render(a)).not.toBe(before);
    const gone = md.render(a);
    looked.shop = "altitude: 120 m\n";
    both();
    expect(md.render(a)).not.toBe(gone);
  });

  it("looks at the files once for each drawing, not for each block", () => {
    const looked = new Looked();
    const md = looked.preview();
    const text = generateLongNote(1000);
    md.render(text);
    expect([looked.shops, looked.surroundings]).toEqual([1, 1]);
    md.render(text.replace("kPa", "psi"));
    expect([looked.shops, looked.surroundings]).toEqual([2, 2]);
  });
});
