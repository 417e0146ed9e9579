/** The reference values as a table, which `npm run check:reference` prints: whole, and without a miss. */
import { expect, it } from "vitest";
import { referenceTable } from "./reference/table.ts";
import { checkReference } from "./reference-rows.ts";

it("has a line for every row, and no row differs", () => {
  const checked = checkReference();
  const table = referenceTable(checked);
  expect(table.split("\n").filter((line) => / \| (agrees|left out)/.test(line))).toHaveLength(checked.length);
  expect(checked.filter((c) => c.status === "differs").map((c) => c.row.id)).toEqual([]);
});
