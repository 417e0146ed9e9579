import rehypeStringify from "rehype-stringify";
import remarkFrontmatter from "remark-frontmatter";
import remarkGfm from "remark-gfm";
import remarkParse from "remark-parse";
import remarkRehype from "remark-rehype";
import { unified } from "unified";
import { describe, expect, it } from "vitest";
import { noteBody } from "../../server/src/report/sheet/prose.ts";
import { generateNotes } from "../generate/notes.ts";
import { analyzeText } from "../support/analyze-text.ts";

/** The markdown library's own reading of the whole note, its blocks taken out: what must stand round the sheets. */
const byLibrary = (text: string): string =>
  unified()
    .use(remarkParse)
    .use(remarkGfm)
    .use(remarkFrontmatter)
    .use(remarkRehype)
    .use(rehypeStringify)
    .processSync(text)
    .toString()
    .replace(/<pre><code class="language-(?:readings|series|limits|steps)">[^<]*<\/code><\/pre>/g, "#");

/** A note's body with each sheet as one sign. */
function aroundSheets(text: string): string {
  const body = noteBody(analyzeText(text), () => undefined).text;
  let around = "";
  for (let at = 0; at < body.length; ) {
    const from = body.indexOf('<div class="wm-sheet">', at);
    if (from < 0) return around + body.slice(at);
    around += `${body.slice(at, from)}#`;
    let depth = 0;
    const tags = /<(\/?)div\b/g;
    tags.lastIndex = from;
    for (let tag = tags.exec(body); tag; tag = tags.exec(body)) {
      depth += tag[1] === "" ? 1 : -1;
      if (depth === 0) break;
    }
    at = body.indexOf(">", tags.lastIndex) + 1;
  }
  return around;
}

const head = "---\njob: test\n---\n\n";

describe("the prose round the blocks", () => {
  it.each([
    ["in a list", "- one\n\n  ```readings\n  p: 1 psi\n\n  q: 2 psi\n  ```\n\n  still one\n- two\n"],
    ["in a tight list", "1. one\n   ```readings\n   p: 1 psi\n   ```\n2. two\n"],
    ["in a quote", "> before\n> ```readings\n> p: 1 psi\n> ```\n> after\n\noutside\n"],
    ["cut off by the end of a quote", "> ```readings\n> p: 1 psi\n\noutside\n\n- x\n"],
    ["never closed", "before\n\n```readings\np: 1 psi\n\n# not a heading\n"],
    ["empty", "before\n\n```readings\n```\nafter\n\n```limits\n\n```\n\nend\n"],
    ["with tildes round backquotes", "~~~~readings\np: 1 psi\n```\n~~~\n~~~~\n\n*after*\n"],
    [
      "beside code of another kind",
      "```js\na\n```\n\n```readings\np: 1 psi\n```\n\n    indented\n\n```\nb\n```\n",
    ],
    ["where a line looks like markdown", "```steps\n2031-03-04\n---\n- x\n```\n\ntext\n===\n"],
  ])("is what the markdown library makes of it: a block %s", (_, body) => {
    expect(aroundSheets(head + body)).toBe(byLibrary(head + body));
    const windows = (head + body).replace(/\n/g, "\r\n");
    expect(aroundSheets(windows)).toBe(byLibrary(windows));
  });

  it("is the same for generated notes", () => {
    for (const { text } of generateNotes(25, 5)) expect(aroundSheets(text)).toBe(byLibrary(text));
  });
});
