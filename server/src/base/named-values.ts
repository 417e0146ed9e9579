import { inWords } from "../analysis/showing.ts";
import type { NoteRecord, ValueRecord } from "./record.ts";
import { columnValue } from "./series-columns.ts";

/**
 * The values that a condition names, in its order, of a note that was found.
 *
 * @param label of the block for which the note meets the condition; empty for the note itself
 * @param names lower case
 */
export const namedValues = (
  note: NoteRecord,
  label: string,
  names: readonly string[],
): (ValueRecord | undefined)[] =>
  names.map((name) => {
    const { values } = note;
    const fits = values.filter((value) => value.name.toLowerCase() === name);
    return (
      fits.find((value) => (value.label?.toLowerCase() ?? "") === label) ??
      fits.find((value) => value.label === undefined) ??
      values.find((value) => `${value.label} ${value.name}`.toLowerCase() === name) ??
      columnValue(note, name)
    );
  });

/** `0.39 mm ± 0.04 mm`; empty for a value that could not be worked out. */
export function valueInWords(value: ValueRecord | undefined): string {
  if (value?.value === undefined) return "";
  if (typeof value.value === "string") return value.value;
  if (typeof value.value === "boolean") return value.value ? "yes" : "no";
  return inWords(value.value, value.uncertainty ?? null, value.unit ?? "");
}
