// Units of shops' own where many notes are asked at once. What they come to in SI is worked out here by hand.
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { Base } from "../../server/src/base/base.ts";
import { readCondition } from "../../server/src/base/condition.ts";
import { makeRecord } from "../../server/src/base/make-record.ts";
import { parseRecord } from "../../server/src/base/parse-record.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { folderWith, runIn } from "../cli/run-in.ts";

const SHOP =
  "units: { can: 20 L }\nformulas:\n  per day: { takes: { used: L, time: d }, formula: used / time, unit: can/d, source: test }\n";
const note = (job: string, lines: string) => `---\njob: ${job}\n---\n\n\`\`\`readings\n${lines}\n\`\`\`\n`;

const files = {
  "shop.yaml": SHOP,
  "a.md": note("1", "fuel used: 3.5 can ± 0.1 can\ntime: 2 d ± 1 min\nrate = per day(fuel used, time)"),
  "b.md": note("2", "fuel used: 75 L"),
};

describe("find", () => {
  const folder = folderWith(files);
  const found = async (condition: string) => {
    const ran = await runIn(folder, ["find", condition, "--format", "json"]);
    return JSON.parse(ran.out).notes.map(({ path }: { path: string }) => path);
  };

  it("takes a unit of the shop's own in a condition, of values in any unit", async () => {
    expect(await found("fuel used > 3.6 can")).toEqual(["b.md"]);
    expect(await found("fuel used > 60 L and fuel used < 3.6 can")).toEqual(["a.md"]);
    // 3.5 cans in two days are 35 L a day.
    expect(await found("rate > 34.9 L/d and rate < 1.76 can/d")).toEqual(["a.md"]);
  });

  it("says of an unknown one what may be meant", async () => {
    const ran = await runIn(folder, ["find", "fuel used > 3 cann"]);
    expect([ran.status, ran.err]).toEqual([2, expect.stringContaining("Did you mean `can`?")]);
  });
});

describe("shops that mean different things by one name", () => {
  const other = Object.fromEntries(
    Object.entries(files).map(([path, text]) => [`two/${path}`, text.replace("20 L", "10 L")]),
  );
  const both = folderWith({
    ...Object.fromEntries(Object.entries(files).map(([path, text]) => [`one/${path}`, text])),
    ...other,
  });

  it("each note is held against what its own shop means, and one whose shop has no such unit is left out aloud", async () => {
    mkdirSync(join(both, "none"));
    writeFileSync(join(both, "none", "c.md"), note("3", "fuel used: 90 L"));
    const ran = await runIn(both, ["find", "fuel used > 5 can", "--format", "json"]);
    rmSync(join(both, "none"), { recursive: true });
    // 75 L are 3.75 cans of one shop and 7.5 of the other.
    expect(JSON.parse(ran.out).notes.map(({ path }: { path: string }) => path)).toEqual(["two/b.md"]);
    expect(ran.err).toBe("Left out 1 time, as `can` is no unit in their shop.\n");
  });

  it("a table over both is asked for in a unit that all know", async () => {
    const ran = await runIn(both, ["table", "fuel used [can]"]);
    expect([ran.status, ran.err]).toEqual([
      2,
      expect.stringContaining("Shops among these notes mean different"),
    ]);
    const litres = JSON.parse((await runIn(both, ["table", "fuel used [L]", "--format", "json"])).out);
    expect(JSON.stringify(litres)).toContain("70");
    expect((await runIn(both, ["table", "fuel used"])).out).toContain("[mL]");
  });

  it("a base that is kept right forgets a shop's units with its last note", () => {
    const recordOf = (shopText: string, path: string) => {
      const shop = readShop(shopText, readYaml, builtInProcedures);
      const text = files["a.md"];
      const record = makeRecord(path, analyze(readNote(text, readYaml), shop), shop);
      return parseRecord(JSON.stringify(record), path);
    };
    const base = new Base([recordOf(SHOP, "a.md")]);
    const ok = () => readCondition("fuel used > 3 can", base).ok;
    expect([ok(), base.readUnit("can").ok]).toEqual([true, true]);
    base.put(1, recordOf(SHOP.replace("20 L", "10 L"), "b.md"));
    expect([ok(), base.readUnit("can").ok]).toEqual([true, false]);
    base.pop();
    expect([ok(), base.readUnit("can").ok]).toEqual([true, true]);
    base.put(0, recordOf("formulas: {}\n", "a.md"));
    expect([ok(), base.readUnit("can").ok]).toEqual([false, false]);
  });
});

describe("export", () => {
  it("gives the value in the shop's unit, no UCUM code for it, and the same in SI", async () => {
    const folder = folderWith(files);
    expect((await runIn(folder, ["export", "out.ndjson", "--format", "ndjson"])).status).toBe(0);
    const lines = readFileSync(join(folder, "out.ndjson"), "utf8").trim().split("\n");
    const schema = JSON.parse(
      readFileSync(new URL("../../grammar/export.schema.json", import.meta.url), "utf8"),
    );
    const valid = new Ajv2020({ strict: false }).compile(schema);
    const [first] = lines.map((line) => JSON.parse(line));
    expect([valid(first), valid.errors]).toEqual([true, null]);
    const [used, , rate] = first.values;
    expect(used).toMatchObject({ value: 3.5, unit: "can", scale: "plain", si: { ucum: "m3" } });
    expect(used.ucum).toBeUndefined();
    expect(used.si.value).toBeCloseTo(0.07, 12);
    // Records keep four digits of an uncertainty.
    expect(used.si.uncertainty / ((2 * 0.002) / Math.sqrt(3))).toBeCloseTo(1, 3);
    expect(rate).toMatchObject({ unit: "can/d", si: { ucum: "m3.s-1" } });
    expect(rate.si.value / (0.035 / 86_400)).toBeCloseTo(1, 9);
    expect(JSON.stringify(first)).not.toContain("unitIs");
  });
});
