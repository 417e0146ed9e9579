/**
 * The reference values as a printed table: `npm run check:reference` shows it, an ordinary test run only
 * checks that it is whole.
 */
import { expect, it } from "vitest";
import { referenceTable } from "./reference/table.ts";
import { checkReference } from "./reference-rows.ts";

it("has a line for every row, and no row differs", () => {
  const checked = checkReference();
  const table = referenceTable(checked);
  if (process.env.npm_lifecycle_event === "check:reference") console.log(table);
  expect(table.split("\n").filter((line) => / \| (agrees|left out)/.test(line))).toHaveLength(checked.length);
  expect(checked.filter((c) => c.status === "differs").map((c) => c.row.id)).toEqual([]);
});
