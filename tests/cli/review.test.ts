import { readFileSync } from "node:fs";
import { join } from "node:path";
import remarkGfm from "remark-gfm";
import remarkParse from "remark-parse";
import type { Log } from "sarif";
import { unified } from "unified";
import { describe, expect, it } from "vitest";
import { TOPICS, topicOf } from "../../server/src/report/review/topics.ts";
import { rules } from "../../server/src/rules/registry.ts";
import { readXml } from "../support/read-xml.ts";
import { sarifValidator } from "../support/sarif-schema.ts";
import { GitFolder } from "./git-folder.ts";
import { CLEAR, folderWith, runIn, WRONG } from "./run-in.ts";

const NOTE = `---
job: 2031-0007
procedure: general
subject: work lamp
complaint: fog
status: open
---

\`\`\`readings
supply voltage: 12.6 V via M1
draw: 4.2 A
power [W] = supply voltage * draw  ≈ 52.9 W
fuse rating: 10,0 A   # accept unit/decimal-comma: copied from the label
\`\`\`

\`\`\`limits
draw <= 15 A
\`\`\`

\`\`\`steps
2031-03-04
08:40  assess: fog
--:--  inspect
\`\`\`
`;

describe("review", () => {
  it("has a topic for every rule", () => {
    expect(rules.filter(({ id }) => topicOf(id) === undefined).map(({ id }) => id)).toEqual([]);
    expect(new Set(rules.map(({ id }) => topicOf(id)?.id))).toEqual(new Set(TOPICS.map(({ id }) => id)));
  });

  it("says what is missing, unsupported, out of date, and accepted and why", async () => {
    const folder = folderWith({ "a.md": NOTE.replace("≈ 52.9", "≈ 51.1") });
    const ran = await runIn(folder, ["review"]);
    expect(ran.err).toBe("");
    const { out } = ran;
    expect(out).toMatch(/^a\.md {2}job 2031-0007, open\n {2}work lamp\n/);
    expect(out).toContain("  Limits: 1 held.");
    expect(out).toMatch(/Missing \(\d\)[\s\S]*The front matter has no `by`\. \(line 1\)/);
    expect(out).toContain("1 step is still to do (`--:--`). (line 23)");
    expect(out).toMatch(
      /Unsupported \(\d\)[\s\S]*`draw` rests on the last digit alone[^\n]*\n?[^\n]*\(line 11\)/,
    );
    expect(out).toContain("1 limit names no source. (line 17)");
    expect(out).toMatch(/Out of date \(1\)[\s\S]*reading\/stale-result: /);
    expect(out).toMatch(
      /Accepted, with the reason given \(1\)\n.*unit\/decimal-comma: .*\n {8}Reason: copied from the label/,
    );
  });

  it("teaches each rule once, where it first comes up", async () => {
    const folder = folderWith({ "a.md": WRONG, "b.md": WRONG.replace("0001", "0002") });
    const { out, status } = await runIn(folder, ["review"]);
    expect(status).toBe(1);
    expect(out.match(/Why it matters:/g)).toHaveLength(1);
    expect(out).toContain("(explained above)");
    expect(out).toMatch(/Reviewed 2 job notes: 2 errors, 4 remarks\.\n$/);
  });

  it("finds readings by an instrument that was out of calibration in the samples", async () => {
    const folder = join(import.meta.dirname, "../../samples");
    const { out } = await runIn(folder, ["review", "."]);
    expect(out).toContain("Out of calibration");
    expect(out).toContain("instrument/calibration-due");
  });

  it("says so of a file that cannot be reviewed", async () => {
    const folder = folderWith({ "a.md": "# Not a job\n" });
    expect(await runIn(folder, ["review", "a.md", "gone.md"])).toEqual({
      status: 2,
      out: "No job note was found.\n",
      err: "gone.md is not there.\na.md is no job note: its front matter has no `job:`.\n",
    });
  });
});

describe("review --since", () => {
  const changed = () => {
    const at = new GitFolder({
      "a.md": WRONG,
      "b.md": CLEAR,
      "c.md": CLEAR,
      "d.md": `${NOTE}x`,
      "e/f.md": NOTE,
    });
    const first = at.commitAll("first");
    at.write("a.md", `\n${CLEAR}`.slice(1).replace("4.2 A", "4.4 A\npower [W] = supply voltage * draw"));
    at.write("b.md", CLEAR.replace("draw: 4.2 A", "draw: 4.2 bar\nsurge: 5,1 A"));
    at.git("rm", "--quiet", "c.md");
    at.git("mv", "d.md", "moved.md");
    at.write("new.md", WRONG);
    return { at, first };
  };

  it("reviews what changed: values then and now, findings new and mended", async () => {
    const { at, first } = changed();
    const { out, status, err } = await runIn(at.folder, ["review", "--since", first]);
    expect({ status, err }).toEqual({ status: 1, err: "" });
    expect(out).not.toContain("e/f.md");
    expect(out).toMatch(
      /Since \w+: 3 values changed, 1 finding mended\.\n {4}supply voltage +cannot be read → 12\.60 V ± 0\.06 V\n {4}draw +4\.20 A ± \S+ A → 4\.40 A ± \S+ A\n {4}power +was not there → 55\.4 W/,
    );
    expect(out).toMatch(/mended {2}unit\/decimal-comma: /);
    expect(out).toMatch(/new {5}b\.md:13:8 {2}unit\/decimal-comma/);
    expect(out).toMatch(/moved\.md {2}job.*\n.*\n.*\n\n {2}Since \w+: 2 findings as before\./);
    expect(out).toMatch(/new\.md {2}job.*\n.*\n\n {2}Since \w+: a new note, 1 finding new\./);
    expect(out).toContain("new.md  job 2031-0001");
    expect(out).toContain("c.md is no more there.\n");
  });

  it("ends well when the only errors were there before", async () => {
    const at = new GitFolder({ "a.md": WRONG });
    at.commitAll("first");
    at.write("a.md", `${WRONG}\nA line of prose before.\n`.replace("# Bench", "Prose.\n\n# Bench"));
    const ran = await runIn(at.folder, ["review", "--since", "HEAD"]);
    expect(ran.status).toBe(0);
    expect(ran.out).toContain("Since HEAD: 1 finding as before.");
    expect(ran.out).not.toMatch(/^ {4}new /m);
  });

  it("compares two revisions, whatever lies in the work tree, and a branch from where it parted", async () => {
    const at = new GitFolder({ "a.md": CLEAR });
    at.commitAll("first");
    at.git("checkout", "--quiet", "-b", "apprentice");
    at.write("a.md", WRONG);
    at.commitAll("second");
    at.git("checkout", "--quiet", "main");
    at.write("b.md", CLEAR);
    at.commitAll("third");
    at.write("a.md", "gone");
    const ran = await runIn(at.folder, ["review", "--since", "main...apprentice"]);
    expect(ran.status).toBe(1);
    expect(ran.out).toContain("1 finding new");
    expect(ran.out).not.toContain("b.md");
    const back = await runIn(at.folder, ["review", "--since", "apprentice..main"]);
    expect(back.out).toContain("1 finding mended");
    expect(back.status).toBe(0);
  });

  it("says that a shop file changed, which notes that did not change rest on as well", async () => {
    const at = new GitFolder({ "a.md": CLEAR, "shop.yaml": "altitude: 300 m\n" });
    at.commitAll("first");
    at.write("shop.yaml", "altitude: 400 m\n");
    const { out } = await runIn(at.folder, ["review", "--since", "HEAD"]);
    expect(out).toMatch(
      /^shop\.yaml changed\. It may change what notes come to[^\n]*\nNo job note changed since HEAD\.\n$/,
    );
    const markdown = await runIn(at.folder, ["review", "--since", "HEAD", "--format", "markdown"]);
    expect(markdown.out).toContain("- shop.yaml changed.");
  });

  it("takes a revision for nothing but a revision", async () => {
    const at = new GitFolder({ "a.md": CLEAR });
    at.commitAll("first");
    for (const revision of [
      "--output=stolen",
      "-h",
      "nowhere",
      "HEAD:a.md",
      "$(touch stolen)",
      "; touch stolen",
    ]) {
      const ran = await runIn(at.folder, ["review", `--since=${revision}`]);
      expect(ran).toMatchObject({ status: 2, out: "" });
      expect(ran.err).toMatch(/^git knows no revision/);
    }
    expect(at.git("status", "--short")).toBe("");
  });

  it("is valid SARIF with a state for each result, and well-formed JUnit XML", async () => {
    const { at, first } = changed();
    const validate = sarifValidator();
    const log: Log = JSON.parse(
      (await runIn(at.folder, ["review", "--since", first, "--format", "sarif"])).out,
    );
    expect(validate(log)).toEqual([]);
    const states = new Set(log.runs[0]?.results?.map(({ baselineState }) => baselineState));
    expect(states).toEqual(new Set(["new", "absent", "unchanged"]));
    const suites = readXml((await runIn(at.folder, ["review", "--since", first, "--format", "junit"])).out);
    expect(suites.children.map(({ attributes }) => attributes.name)).toEqual([
      "a.md",
      "b.md",
      "moved.md",
      "new.md",
    ]);
    const { out } = await runIn(at.folder, ["review", "--since", first, "--format", "annotations"]);
    expect(out).toMatch(/^::error file=b\.md,/);
    expect(out).not.toContain("file=a.md");
  });
});

describe("review --format markdown", () => {
  it("keeps what a note says from becoming markdown, HTML or a call by name", async () => {
    const nasty = "<img src=x onerror=alert(1)> [x](http://a.invalid) | ![y](z) **b** @everybody # h `c";
    const folder = folderWith({
      "a|b_*.md": WRONG.replace("subject: bench supply", `subject: '${nasty}'`).replace(
        "draw: 4.2 A",
        `draw: 4.2 A\nfuse: 10,0 A  # accept unit/decimal-comma: ${nasty}`,
      ),
    });
    const { out } = await runIn(folder, ["review", "--format", "markdown"]);
    const kinds = new Set<string>();
    const walk = (node: { type: string; children?: unknown }): void => {
      kinds.add(node.type);
      if (Array.isArray(node.children)) node.children.forEach(walk);
    };
    walk(unified().use(remarkParse).use(remarkGfm).parse(out));
    for (const kind of ["html", "image", "link", "table", "delete"]) expect(kinds).not.toContain(kind);
    expect(out).not.toContain("@everybody");
    expect(out.match(/^#+ .*/gm)).toEqual([
      "# Review of job notes",
      "## a\\|b\\_\\*.md",
      "### Missing",
      "### Unsupported",
      "### Cannot be read or worked out",
      "### Accepted, with the reason given",
      "## What these rules are about",
    ]);
  });

  it("shows changed values as a table", async () => {
    const at = new GitFolder({ "a.md": CLEAR });
    at.commitAll("first");
    at.write("a.md", CLEAR.replace("4.2 A", "4.3 A"));
    const { out } = await runIn(at.folder, ["review", "--since", "HEAD", "--format", "markdown"]);
    expect(out).toMatch(
      /\| Reading \| Then \| Now \|\n\| --- \| --- \| --- \|\n\| draw \| 4\.20 A ± .* \| 4\.30 A ± .* \|/,
    );
  });
});

describe("textconv", () => {
  it("prints results behind formulas, and lets git diff show them changed, with the shop file for both", async () => {
    const at = new GitFolder({ "jobs/a.md": NOTE });
    at.write(
      "shop.yaml",
      "instruments:\n  M1: { measures: voltage, range: 0 to 60 V, resolution: 0.1 V, accuracy: ± 0.3 V }\n",
    );
    at.commitAll("first");
    const ran = await runIn(at.folder, ["textconv", "jobs/a.md"]);
    expect(ran.out).toContain("power [W] = supply voltage * draw  ≈ 52.9 W   → 52.9 W ± ");
    expect(ran.out).toContain("draw <= 15 A   → holds\n");
    const elsewhere = folderWith({ "a.md": readFileSync(join(at.folder, "jobs/a.md"), "utf8") });
    expect((await runIn(at.folder, ["textconv", join(elsewhere, "a.md")])).out).toBe(ran.out);
  });

  it("prints any other file as it is", async () => {
    const folder = folderWith({ "README.md": "# Hello\r\n\tworld" });
    expect(await runIn(folder, ["textconv", "README.md"])).toEqual({
      status: 0,
      out: "# Hello\r\n\tworld",
      err: "",
    });
  });
});
