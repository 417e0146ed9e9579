import type { NoteRecord } from "./record.ts";

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** Reads a record that was written as JSON by this same program. `path` as it is to be shown now. */
export function parseRecord(json: string, path: string): NoteRecord {
  const record: Mutable<NoteRecord> = JSON.parse(json);
  record.path = path;
  if (record.units !== undefined) record.units = shared(record.units);
  // A shop's notes use the same few hundred names over and over; one text serves them all.
  record.values.forEach((value: Mutable<NoteRecord["values"][number]>) => {
    value.name = shared(value.name);
    if (value.label !== undefined) value.label = shared(value.label);
    if (value.unit !== undefined) value.unit = shared(value.unit);
  });
  record.columns?.forEach((column: Mutable<NonNullable<NoteRecord["columns"]>[number]>) => {
    column.name = shared(column.name);
    if (column.over !== undefined) column.over = shared(column.over);
    for (const figure of Object.values(column.figures)) {
      const own: Mutable<typeof figure> = figure;
      if (own.unit !== undefined) own.unit = shared(own.unit);
    }
  });
  record.steps.forEach((step: Mutable<NoteRecord["steps"][number]>) => {
    step.step = shared(step.step);
    if (step.remark !== undefined) step.remark = shared(step.remark);
  });
  record.findings.forEach((finding: Mutable<NoteRecord["findings"][number]>) => {
    finding.rule = shared(finding.rule);
    finding.message = shared(finding.message);
  });
  return record;
}

const texts = new Map<string, string>();
const MOST_TEXTS = 100_000;

function shared(text: string): string {
  const known = texts.get(text);
  if (known !== undefined) return known;
  if (texts.size < MOST_TEXTS) texts.set(text, text);
  return text;
}
