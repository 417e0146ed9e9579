import { stringify } from "csv-stringify/sync";

export type Cell = string | number | undefined;

/**
 * CSV after RFC 4180. A text that a spreadsheet would take for a formula (it starts with `=`, `+`, `-`, `@`,
 * a tab or a carriage return, or their full-width twins) gets a single quote before it, as OWASP advises
 * against CSV injection; numbers stay numbers.
 */
export function csvRows(rows: readonly (readonly Cell[])[]): string {
  return stringify(
    rows.map((row) => [...row]),
    { escape_formulas: true, record_delimiter: "\r\n" },
  );
}
