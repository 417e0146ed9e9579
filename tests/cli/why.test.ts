import { describe, expect, it } from "vitest";
import { rules } from "../../server/src/rules/registry.ts";
import { folderWith, runIn } from "./run-in.ts";

describe("why", () => {
  const folder = folderWith({});

  it("explains every rule", async () => {
    for (const { id, severity, why } of rules) {
      const ran = await runIn(folder, ["why", id]);
      expect(ran).toMatchObject({ status: 0, err: "" });
      expect(ran.out).toContain(`${id} (${severity}): `);
      expect(ran.out.replace(/\s+/g, " ")).toContain(why);
      expect(ran.out).toContain("Is reported\n    ");
      expect(ran.out.split("\n").every((line) => line.length <= 100)).toBe(true);
    }
  });

  it("lists all rules when none is named", async () => {
    const ran = await runIn(folder, ["why"]);
    for (const { id } of rules) expect(ran.out).toContain(`  ${id} `);
  });

  it.each([
    ["unit/decimal-coma", "Did you mean `unit/decimal-comma`?"],
    ["decimal-comma", "Did you mean `unit/decimal-comma`?"],
    ["gibberish", "There is no rule `gibberish`.\n"],
  ])("offers the nearest rule for %s", async (asked, says) => {
    const ran = await runIn(folder, ["why", asked]);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
  });
});
