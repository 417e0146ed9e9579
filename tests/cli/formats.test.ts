import type { Log } from "sarif";
import { beforeAll, describe, expect, it } from "vitest";
import { readXml } from "../support/read-xml.ts";
import { sarifValidator } from "../support/sarif-schema.ts";
import { folderWith, runIn, WRONG } from "./run-in.ts";

/** What a technician could write and what a program would trip over. */
const NASTY = WRONG.replace("# Bench supply", '![x](gone "t")\n').replace(
  "draw: 4.2 A",
  "draw\u0001 <&>\"': 4.2 A ]]> \u202e % ::error:: ,\nlamp \u{1F527}: 3 quux",
);
const ACCEPTED = WRONG.replace("12,6 V", "12,6 V   # accept unit/decimal-comma: copied, so left <as> it is");

const folder = folderWith({
  "plain.md": WRONG,
  "sub dir/na%sty#,:\u00e4.md": NASTY,
  "accepted.md": ACCEPTED,
  "crlf.md": WRONG.replaceAll("\n", "\r\n"),
  "shop.yaml": "instruments: 3\n",
});

describe("check --format sarif", () => {
  let log: Log;
  let validate: ReturnType<typeof sarifValidator>;
  beforeAll(async () => {
    validate = sarifValidator();
    const ran = await runIn(folder, ["check", "--format", "sarif"]);
    expect(ran.status).toBe(1);
    log = JSON.parse(ran.out);
  });

  it("is valid by the schema of the standard", () => {
    expect(validate(log)).toEqual([]);
    expect(validate({ ...log, version: "2.0.0" })).not.toEqual([]);
  });

  it("describes every rule that it names", () => {
    const rules = new Set(log.runs[0]?.tool.driver.rules?.map(({ id }) => id));
    const named = new Set(log.runs[0]?.results?.map(({ ruleId }) => ruleId ?? ""));
    expect(named.size).toBeGreaterThan(2);
    expect([...named].filter((rule) => !rules.has(rule))).toEqual([]);
  });

  it("gives the place, the mend, and accepted findings as suppressed with their reason", () => {
    const results = log.runs[0]?.results ?? [];
    const at = (uri: string) =>
      results.filter(({ locations }) => locations?.[0]?.physicalLocation?.artifactLocation?.uri === uri);
    const region = { startLine: 11, startColumn: 17, endLine: 11, endColumn: 21 };
    expect(at("plain.md")).toMatchObject([
      {
        ruleId: "unit/decimal-comma",
        level: "error",
        locations: [{ physicalLocation: { region } }],
        fixes: [{ artifactChanges: [{ replacements: [{ insertedContent: { text: expect.any(String) } }] }] }],
      },
    ]);
    expect(at("crlf.md")).toMatchObject([{ locations: [{ physicalLocation: { region } }] }]);
    expect(at("accepted.md")).toMatchObject([
      { suppressions: [{ kind: "inSource", justification: "copied, so left <as> it is" }] },
    ]);
    expect(at("sub%20dir/na%25sty%23%2C%3A%C3%A4.md").length).toBeGreaterThan(1);
  });

  it("is valid where there is nothing to report, and where there is no note", async () => {
    for (const files of [{ "a.md": WRONG.replace(",", ".") }, {}]) {
      const { out } = await runIn(folderWith(files), ["check", "--format", "sarif"]);
      const empty: Log = JSON.parse(out);
      expect(validate(empty)).toEqual([]);
      expect(empty.runs[0]?.results).toEqual([]);
    }
  });
});

describe("check --format junit", () => {
  it("is well-formed XML whatever the note holds, and its counts are right", async () => {
    const root = readXml((await runIn(folder, ["check", "--format", "junit"])).out);
    expect(root.name).toBe("testsuites");
    expect(root.children.map(({ name }) => name)).toEqual(root.children.map(() => "testsuite"));
    for (const { attributes, children } of root.children) {
      const having = (name: string) =>
        children.filter((one) => one.children.some((child) => child.name === name)).length;
      expect(attributes).toMatchObject({
        tests: String(children.length),
        failures: String(having("failure")),
        skipped: String(having("skipped")),
        errors: "0",
      });
    }
    const suite = (name: string) => root.children.find(({ attributes }) => attributes.name === name);
    expect(suite("plain.md")?.children).toMatchObject([
      {
        name: "testcase",
        attributes: {
          name: "unit/decimal-comma, line 11",
          classname: "plain.md",
          file: "plain.md",
          line: "11",
        },
        children: [{ name: "failure", attributes: { type: "unit/decimal-comma" } }],
      },
    ]);
    expect(suite("accepted.md")?.children).toMatchObject([
      { children: [{ name: "skipped", attributes: { message: "accepted: copied, so left <as> it is" } }] },
    ]);
    expect(suite("sub dir/na%sty#,:\u00e4.md")?.attributes.failures).not.toBe("0");
  });

  it("has a passed case for a note with nothing to report", async () => {
    const clear = folderWith({ "a.md": WRONG.replace(",", ".") });
    const root = readXml((await runIn(clear, ["check", "--format", "junit"])).out);
    expect(root.children).toMatchObject([
      {
        attributes: { tests: "1", failures: "0" },
        children: [{ attributes: { name: "nothing to report" } }],
      },
    ]);
  });
});

describe("check --format annotations", () => {
  it("says each finding on one line of its own, with nothing in it that could end it or start another", async () => {
    const { out, status } = await runIn(folder, ["check", "--format", "annotations"]);
    expect(status).toBe(1);
    const lines = out.trimEnd().split("\n");
    expect(
      lines.every((line) => /^::(?:error|warning|notice) file=[^:,]+,line=\d+,col=\d+,/.test(line)),
    ).toBe(true);
    expect(lines).toContainEqual(
      expect.stringMatching(
        /^::error file=plain\.md,line=11,col=17,endLine=11,endColumn=21,title=unit\/decimal-comma::/,
      ),
    );
    expect(lines.some((line) => line.includes("file=sub dir/na%25sty#%2C%3A\u00e4.md,"))).toBe(true);
    expect(lines.some((line) => line.includes("accepted.md"))).toBe(false);
  });
});
