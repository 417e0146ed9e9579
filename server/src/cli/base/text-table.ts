import { displayWidth, harmless } from "../../report/display-width.ts";

/** A table for reading: a head, a line, and columns set left or, where they are numbers, right. */
export function textTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  right: (column: number) => boolean = () => false,
): string {
  const cells = [head, ...rows].map((row) => row.map(harmless));
  const widths = head.map((_, column) => Math.max(...cells.map((row) => displayWidth(row[column] ?? ""))));
  const line = (row: readonly string[]): string =>
    widths
      .map((width, column) => {
        const cell = row[column] ?? "";
        const blanks = " ".repeat(width - displayWidth(cell));
        return right(column) ? blanks + cell : cell + blanks;
      })
      .join("   ")
      .trimEnd();
  const [top = [], ...rest] = cells;
  const rule = widths.map((width) => "-".repeat(width)).join("   ");
  return `${[line(top), rule, ...rest.map(line)].join("\n")}\n`;
}
