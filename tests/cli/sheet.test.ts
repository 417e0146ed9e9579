import { createHash } from "node:crypto";
import { readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CLEAR, folderWith, runIn } from "./run-in.ts";

/** The smallest PNG: one pixel. */
const PIXEL = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR4nGNgYGBgAAAABQABh6FO1AAAAABJRU5ErkJggg==",
  "base64",
);

const NOTE = `---
job: 2031-0042
procedure: lamp-moisture
subject: rear lamp <left>
vehicle: { description: farm utility vehicle, year: 2024 }
complaint: droplets inside
cause: lower seam
correction: seam sealed
by: tech 3
date: 2031-03-04
status: open
photos: [photos/seam.png]
---

# Rear lamp

The customer parks outside. <script>alert(1)</script>

![the seam](photos/seam.png) ![passwords](../secret.png) ![far](https://example.org/a.png)

\`\`\`readings
test pressure: 0.80 psi
\`\`\`

\`\`\`steps
09:10  retest [lower seam]: fail, bubbles
10:10  retest [lower seam]: pass
--:--  refit
\`\`\`
`;

const files = {
  "notes/shop.yaml": "altitude: 120 m\n",
  "notes/lamp.md": NOTE,
  "notes/photos/seam.png": PIXEL,
  "secret.png": PIXEL,
};

describe("witness-mark sheet", () => {
  it("makes one page that needs nothing else and runs nothing", async () => {
    const { status, out } = await runIn(folderWith(files), ["sheet", "notes/lamp.md"]);
    expect(status).toBe(0);
    expect(out).toMatch(/^<!doctype html>/);
    expect(out).not.toMatch(/<script|<link|\son[a-z]+=|src="(?!data:)|\sstyle=/);
    // Its own policy allows its style by fingerprint, and pictures inside the page.
    const style = /<style>([\s\S]*?)<\/style>/.exec(out)?.[1] ?? "";
    const fingerprint = createHash("sha256").update(style).digest("base64");
    expect(out).toContain(
      `default-src &#39;none&#39;; style-src &#39;sha256-${fingerprint}&#39;; img-src data:`,
    );
    for (const part of [
      "rear lamp &lt;left&gt;",
      "droplets inside",
      "seam sealed",
      "Cautions",
      "0.80 psi",
      "still to do",
      "Technician: tech 3",
    ])
      expect(out).toContain(part);
  });

  it("takes in photos of the notes' folder only", async () => {
    const folder = folderWith(files);
    writeFileSync(join(folder, "notes/lamp.md"), `${NOTE}\n![link](photos/link.png)\n`);
    symlinkSync(join(folder, "secret.png"), join(folder, "notes/photos/link.png"));
    const { out } = await runIn(folder, ["sheet", "notes/lamp.md"]);
    // The seam, once in the text and once among the photos.
    expect(out.match(/src="data:image\/png;base64,/g)).toHaveLength(2);
    for (const left of ["[picture: passwords]", "[picture: far]", "[picture: link]"])
      expect(out).toContain(left);
  });

  it("tells the customer in plain words, without the workshop's own notes", async () => {
    const { out } = await runIn(folderWith(files), ["sheet", "--customer", "notes/lamp.md"]);
    expect(out).toContain("What you told us");
    expect(out).toContain("The work is not finished yet.");
    // Of a test done twice the last outcome counts.
    expect(out.match(/Retest, lower seam/g)).toHaveLength(1);
    expect(out).toContain("Retest, lower seam: passed (2031-03-04 10:10)");
    for (const inner of ["parks outside", "0.80 psi", "bubbles", "refit", "tech 3", "lamp.md"])
      expect(out).not.toContain(inner);
  });

  it("writes into a file at once, and says so", async () => {
    const folder = folderWith(files);
    const { status, out, err } = await runIn(folder, ["sheet", "notes/lamp.md", "--output", "lamp.html"]);
    expect([status, out]).toEqual([0, ""]);
    expect(err).toMatch(/^lamp\.html is there\. The note was checked: /);
    expect(readFileSync(join(folder, "lamp.html"), "utf8")).toMatch(/<\/html>\n$/);
  });

  it("says plainly why there is no page", async () => {
    const folder = folderWith({ "a.md": "# no job\n", "b.md": CLEAR });
    const ran = async (...args: string[]) => {
      const { status, err } = await runIn(folder, ["sheet", ...args]);
      return [status, err];
    };
    expect(await ran("none.md")).toEqual([2, "none.md is not there.\n"]);
    expect(await ran("a.md")).toEqual([2, "a.md is no job note: its front matter has no `job`.\n"]);
    expect(await ran("b.md", "--output", "no/where.html")).toEqual([2, "no/where.html is not there.\n"]);
  });
});
