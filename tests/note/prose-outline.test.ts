import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import remarkFrontmatter from "remark-frontmatter";
import remarkParse from "remark-parse";
import { unified } from "unified";
import { describe, expect, it } from "vitest";
import { headingsOf, sectionsOf } from "../../server/src/note/prose-outline.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";

const read = (text: string) => readNote(text, readYaml);
const headings = (text: string) =>
  headingsOf(read(text)).map(({ level, range }) => [level, range.from, range.to] as const);

/** The reference: headings that remark finds at the margin. Its offsets count UTF-16 units too. */
function remarkHeadings(text: string) {
  const tree = unified().use(remarkParse).use(remarkFrontmatter).parse(text);
  return tree.children.flatMap((node) =>
    node.type === "heading" ? [[node.depth, node.position?.start.offset, node.position?.end.offset]] : [],
  );
}

const MIXED = `---
job: 1
---

# One #

Setext heading
of two lines
===

Another
---

####### seven is none
#none either

- # in a list

> # in a quote

\`\`\`readings
# a comment
a: 1 A
\`\`\`

    # indented

###### six 🔧

##
`;

describe("the outline", () => {
  it("is what remark finds, at the same places", () => {
    const folder = join(import.meta.dirname, "../../samples");
    const samples = readdirSync(folder).filter((file) => file.endsWith(".md"));
    for (const text of [MIXED, ...samples.map((file) => readFileSync(join(folder, file), "utf8"))]) {
      for (const ends of ["\n", "\r\n"]) {
        const written = text.replaceAll("\n", ends);
        expect(headings(written)).toEqual(remarkHeadings(written));
      }
    }
  });

  it("has the words of each heading without its marks", () => {
    expect(headingsOf(read(MIXED)).map(({ text }) => text)).toEqual([
      "One",
      "Setext heading of two lines",
      "Another",
      "six 🔧",
      "",
    ]);
  });

  it("puts under a heading all up to the next one of its level", () => {
    const text = "---\njob: 1\n---\n# A\na\n\n## B\nb\n\n# C\n";
    const sections = sectionsOf(read(text)).map(({ range }) => text.slice(range.from, range.to));
    expect(sections).toEqual(["# A\na\n\n## B\nb", "## B\nb", "# C"]);
  });
});
