import { inWords } from "../../analysis/showing.ts";
import type { Column, Point } from "../../base/columns.ts";
import { enNumber } from "../../base/statistics.ts";
import { csvRows } from "./csv.ts";
import type { Group } from "./table.ts";
import { textTable } from "./text-table.ts";

/** Two results for the same thing in one note, each by its own instrument or tester. */
interface Pair {
  readonly column: Column;
  readonly a: Point;
  readonly b: Point;
  /** Undefined where neither has an uncertainty. */
  readonly en: number | undefined;
}

/**
 * Pairs of two groups. Only what stands in the same note is compared: from one job to another the part under
 * test is not the same. The uncertainties are taken as independent of each other.
 */
export function comparisonOf(groups: readonly Group[], a: string, b: string): Pair[] {
  const same = (group: Group, name: string): boolean => group.name.toLowerCase() === name.toLowerCase();
  return groups
    .filter((group) => same(group, a))
    .flatMap((first) => {
      const second = groups.find((group) => group.column === first.column && same(group, b));
      return first.points.flatMap((point) => {
        const others = second?.points.filter(({ note }) => note === point.note) ?? [];
        return others.map((other) => ({
          column: first.column,
          a: point,
          b: other,
          en: enNumber(
            { value: point.value, uncertainty: point.uncertainty ?? 0 },
            { value: other.value, uncertainty: other.uncertainty ?? 0 },
          ),
        }));
      });
    });
}

export function writeComparison(
  pairs: readonly Pair[],
  a: string,
  b: string,
  format: "readable" | "json" | "csv",
): string {
  if (format === "json") return `${JSON.stringify({ version: 1, a, b, pairs: pairs.map(asJson) })}\n`;
  if (format === "csv") {
    return csvRows([
      ["value", "unit", "path", "date", a, `${a} uncertainty`, b, `${b} uncertainty`, "difference", "en"],
      ...pairs.map(({ column, a: one, b: other, en }) => [
        column.name,
        column.unit.spelling,
        one.note.path,
        one.note.day ?? "",
        one.value,
        one.uncertainty ?? "",
        other.value,
        other.uncertainty ?? "",
        one.value - other.value,
        en ?? "",
      ]),
    ]);
  }
  if (pairs.length === 0) return `No note has the same value from both ${a} and ${b}.\n`;
  const beyond = pairs.filter(({ en }) => en !== undefined && Math.abs(en) > 1).length;
  const rows = pairs.map(({ column, a: one, b: other, en }) => [
    one.note.path,
    one.note.day ?? "",
    column.name,
    ...[one, other].map((point) => inWords(point.value, point.uncertainty ?? null, column.unit.spelling)),
    en === undefined ? "" : en.toFixed(2),
    en === undefined ? "no uncertainty is known" : Math.abs(en) > 1 ? "differ" : "agree",
  ]);
  const says =
    beyond === 0
      ? "Every pair agrees within its uncertainty"
      : `${beyond} of ${pairs.length} pairs differ by more than their uncertainty explains`;
  return `${textTable(["note", "date", "value", a, b, "En", ""], rows, (column) => column === 5)}\n${says} (two results agree when En lies between -1 and 1).\n`;
}

const asJson = ({ column, a, b, en }: Pair) => ({
  value: column.name,
  unit: column.unit.spelling || null,
  path: a.note.path,
  date: a.note.day ?? null,
  a: { value: a.value, uncertainty: a.uncertainty ?? null },
  b: { value: b.value, uncertainty: b.uncertainty ?? null },
  difference: a.value - b.value,
  en: en ?? null,
});
