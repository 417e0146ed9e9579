import { resolve } from "node:path";
import { inWords } from "../../analysis/showing.ts";
import type { Column, Point } from "../../base/columns.ts";
import { type JointDifference, jointDifference } from "../../base/joint-difference.ts";
import { enNumber } from "../../base/statistics.ts";
import { toSI } from "../../units/unit.ts";
import { NoteReader } from "../note-reader.ts";
import type { Outside } from "../outside.ts";
import { csvRows } from "./csv.ts";
import type { Group } from "./table.ts";
import { textTable } from "./text-table.ts";

/** Two results for the same thing in one note, each by its own instrument or tester. */
interface Pair {
  readonly column: Column;
  readonly a: Point;
  readonly b: Point;
  /** Expanded uncertainty of their difference, in the column's unit; undefined where neither has one. */
  readonly uncertainty: number | undefined;
  readonly en: number | undefined;
  /** What both lean on, where the note still gives these results. */
  readonly joint: JointDifference | undefined;
}

/**
 * Pairs of two groups. Only what stands in the same note is compared: from one job to another the part under
 * test is not the same. What two results of a note share, such as the zero of a gauge that both were read from,
 * cancels in their difference, so the note is worked out once more for that.
 */
export function comparisonOf(
  groups: readonly Group[],
  a: string,
  b: string,
  outside: Pick<Outside, "folder" | "libraries">,
): Pair[] {
  const same = (group: Group, name: string): boolean => group.name.toLowerCase() === name.toLowerCase();
  const reader = new NoteReader(outside.folder, outside.libraries);
  const jointOf = (column: Column, one: Point, other: Point): JointDifference | undefined => {
    const read = reader.note(resolve(outside.folder, one.note.path));
    if (read.kind !== "note") return undefined;
    const side = ({ label, value }: Point) => ({ label, si: toSI(value, column.unit) });
    return jointDifference(read.note.analysis, column.name, side(one), side(other));
  };
  const pairOf = (column: Column, one: Point, other: Point): Pair => {
    const joint = jointOf(column, one, other);
    const uncertainty = joint
      ? (joint.uncertainty ?? 0) / Math.abs(column.unit.factor)
      : Math.hypot(one.uncertainty ?? 0, other.uncertainty ?? 0);
    const en = enNumber(one.value - other.value, uncertainty);
    return { column, a: one, b: other, uncertainty: uncertainty > 0 ? uncertainty : undefined, en, joint };
  };
  return groups
    .filter((group) => same(group, a))
    .flatMap((first) => {
      const second = groups.find((group) => group.column === first.column && same(group, b));
      return first.points.flatMap((point) => {
        const others = second?.points.filter(({ note }) => note === point.note) ?? [];
        return others.map((other) => pairOf(first.column, point, other));
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
      [
        ...[
          "value",
          "unit",
          "path",
          "date",
          a,
          `${a} uncertainty`,
          b,
          `${b} uncertainty`,
          "difference",
          "en",
        ],
        ...["difference uncertainty", "shared", "through"],
      ],
      ...pairs.map(({ column, a: one, b: other, uncertainty, en, joint }) => [
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
        uncertainty ?? "",
        joint === undefined ? "" : joint.shared ? "yes" : "no",
        joint?.unsplit.join("; ") ?? "",
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
  return `${textTable(["note", "date", "value", a, b, "En", ""], rows, (column) => column === 5)}\n${says} (two results agree when En lies between -1 and 1).\n${sharingSays(pairs)}`;
}

/** What pairs have in common, and what cannot be said of it. */
function sharingSays(pairs: readonly Pair[]): string {
  const shared = pairs.filter(({ joint }) => joint?.shared).length;
  const unsplit = [...new Set(pairs.flatMap(({ joint }) => joint?.unsplit ?? []))].sort();
  const lines = [
    ...(shared === 0
      ? []
      : [
          `What the two results have in common cancels in the En number of ${shared} of ${pairs.length} pairs.`,
        ]),
    ...(unsplit.length === 0
      ? []
      : [
          `Both sides were read through ${unsplit.map((id) => id.toUpperCase()).join(", ")}. Nobody can say how much of its error they share, so all of it counts, and these En numbers may be too small; \`split\` in the shop file tells more.`,
        ]),
  ];
  return lines.map((line) => `${line}\n`).join("");
}

const asJson = ({ column, a, b, uncertainty, en, joint }: Pair) => ({
  value: column.name,
  unit: column.unit.spelling || null,
  path: a.note.path,
  date: a.note.day ?? null,
  a: { value: a.value, uncertainty: a.uncertainty ?? null },
  b: { value: b.value, uncertainty: b.uncertainty ?? null },
  difference: a.value - b.value,
  differenceUncertainty: uncertainty ?? null,
  en: en ?? null,
  shared: joint?.shared ?? null,
  through: joint?.unsplit ?? [],
});
