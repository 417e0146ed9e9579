/** Every reference row as one line of a table: outcome, expected, got, difference, what, source, remark. */

import { checkReference, fromMemory } from "../reference-rows.ts";
import type { Checked } from "./plan.ts";

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

/** The table, line by line, with the count at its end. */
export function referenceTable(all: readonly Checked[] = checkReference()): string {
  const count = (status: Checked["status"]): number => all.filter((c) => c.status === status).length;
  const memory = all.filter((c) => c.status === "agrees" && fromMemory(c)).length;
  return [
    "row | outcome | expected | got | difference | quantity | source | remark",
    ...all.map(line),
    "",
    `${count("agrees")} of ${all.length} rows agree (${memory} of them from memory), ` +
      `${count("differs")} differ, ${count("left out")} are left out for the reason given.`,
  ].join("\n");
}
