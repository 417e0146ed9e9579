import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCommonYaml } from "../../server/src/note/yaml-fast.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { commonText, frontMatterText, mutated } from "./texts.ts";

/** The quick reader either declines, or gives exactly what the full library gives: `yaml`, YAML 1.2 core schema. */
function agrees(text: string): void {
  const quick = readCommonYaml(text, 7);
  if (quick === undefined) return;
  const full = readYaml(text, 7);
  expect(full.problems, JSON.stringify(text)).toEqual([]);
  expect(quick, JSON.stringify(text)).toEqual(full.tree);
}

const RUNS = Number(process.env.PROPERTY_RUNS ?? 1500);

describe("the quick YAML reader", { timeout: 60_000 }, () => {
  it("agrees with the library on front matters of every kind", () => {
    fc.assert(fc.property(frontMatterText, agrees), { numRuns: RUNS });
  });

  it("agrees with the library on mutated front matters", () => {
    fc.assert(fc.property(mutated(frontMatterText), agrees), { numRuns: RUNS });
    fc.assert(fc.property(mutated(commonText), agrees), { numRuns: RUNS });
  });

  it("declines nothing of the common form", () => {
    fc.assert(
      fc.property(commonText, (text) => {
        expect(readCommonYaml(text, 0), JSON.stringify(text)).toBeDefined();
        agrees(text);
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    ["a tab", "job: 1\n\tby: x\n"],
    ["an escape", 'job: "a\\n"\n'],
    ["a value over two lines", "job: a\n  b\n"],
    ["text below a bar", "job: |\n  a\n"],
    ["a key given twice", "job: a\njob: b\n"],
    ["an anchor", "job: &a b\n"],
    ["a colon inside a value", "job: a: b\n"],
    ["two documents", "job: a\n---\nby: b\n"],
    ["a carriage return on its own", "job: a\rby: b\n"],
    ["a number beyond a double's digits", "job: 12345678901234567890\n"],
    ["a trailing comma", "vehicle: { year: 2024, }\n"],
    ["nothing at all", ""],
  ])("leaves %s to the library", (_what, text) => {
    expect(readCommonYaml(text, 0)).toBeUndefined();
  });

  it("reads truths and nothing as the library does", () => {
    const text = "x-invented: true\nby: yes\ncause: null\nvehicle: { vin: FALSE, plate: True }\n";
    expect(readCommonYaml(text, 0)).toBeDefined();
    agrees(text);
  });

  it("takes the front matter of every sample", () => {
    const samples = new URL("../../samples/", import.meta.url);
    for (const name of readdirSync(samples).filter((file) => file.endsWith(".md"))) {
      const front = /^---\n([\s\S]*?)^---$/m.exec(readFileSync(new URL(name, samples), "utf8"))?.[1];
      if (front === undefined || !front.includes("job:")) continue;
      expect(readCommonYaml(front, 0), name).toBeDefined();
      agrees(front);
    }
  });

  it("keeps digits as written beside the number", () => {
    expect(readCommonYaml("job: 007\n", 4)?.entries[0]).toEqual({
      key: "job",
      keyRange: { from: 4, to: 7 },
      value: { kind: "scalar", range: { from: 9, to: 12 }, value: 7, source: "007" },
    });
  });

  it("reads a map set in below its key", () => {
    const text = "vehicle:  # ours\r\n  description: farm utility\r\n  year: 2024\r\njob: 1\r\n";
    expect(readCommonYaml(text, 0)).toBeDefined();
    agrees(text);
  });
});
