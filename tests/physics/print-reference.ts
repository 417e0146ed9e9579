/**
 * Prints every reference row: id, what, expected, got, difference, outcome and source, then what is left out
 * and why. Ends with status 1 when a row differs.
 */
import type { Checked } from "./reference/plan.ts";
import { checkReference, fromMemory } from "./reference-rows.ts";

const number = (value: number | undefined): string =>
  value === undefined ? "" : String(Number(value.toPrecision(9)));

function line(checked: Checked): string {
  const { row, status } = checked;
  const memory = fromMemory(checked) ? " (from memory)" : "";
  return [
    row.id,
    status + memory,
    `${number(row.expected.value)} ${row.expected.unit}`.trim(),
    number(checked.got),
    checked.difference === undefined ? "" : checked.difference.toExponential(1),
    row.quantity,
    row.source,
    checked.because ?? "",
  ].join(" | ");
}

const all = checkReference();
console.log("row | outcome | expected | got | difference | quantity | source | remark");
for (const checked of all) console.log(line(checked));

const count = (status: Checked["status"]): number => all.filter((c) => c.status === status).length;
const memory = all.filter((c) => c.status === "agrees" && fromMemory(c)).length;
console.log(
  `\n${count("agrees")} of ${all.length} rows agree (${memory} of them from memory), ` +
    `${count("differs")} differ, ${count("left out")} are left out for the reason given.`,
);
if (count("differs") > 0) process.exitCode = 1;
