import { expandedUncertainty } from "../analysis/quantity.ts";
import { siCode } from "../units/ucum-code.ts";
import { clock, codeOf, PERSONAL, quantityIn } from "./export-tables.ts";
import type { ColumnRecord, NoteRecord, ValueRecord } from "./record.ts";

/**
 * One note as one object of NDJSON. Its form is that of `grammar/export.schema.json` and may only grow within
 * version 1: programs outside rely on it. What is absent is left out.
 */
export function exportNote(note: NoteRecord, personal: boolean): object {
  const fields = Object.entries(note.fields).filter(([name]) => personal || !PERSONAL.includes(name));
  return {
    version: 1,
    path: note.path,
    ...(note.day === undefined ? {} : { date: note.day }),
    fields: Object.fromEntries(fields.filter(([name]) => name !== "date")),
    values: note.values.map(exportValue),
    ...(note.columns === undefined ? {} : { columns: note.columns.map(exportColumn) }),
    steps: note.steps.map(({ step, place, day, at, minutes, outcome, remark, line }) => ({
      step,
      done: at !== undefined,
      place,
      date: day,
      time: at === undefined ? undefined : clock(at),
      minutes,
      outcome,
      remark,
      line,
    })),
    findings: note.findings,
  };
}

/** Figures with what a database needs to compare them, as values have it. */
function exportColumn({ name, over, count, figures, line }: ColumnRecord): object {
  const exported = Object.entries(figures).map(([figure, found]) => {
    const record: ValueRecord = { name: figure, kind: "derived", ...found, line };
    const quantity = quantityIn(record);
    return [
      figure,
      {
        ...found,
        ucum: quantity && codeOf(quantity),
        scale: quantity?.scale,
        si: quantity && {
          value: quantity.si,
          uncertainty: expandedUncertainty(quantity),
          ucum: siCode(quantity.dimension),
        },
      },
    ];
  });
  return { name, over, count, figures: Object.fromEntries(exported), line };
}

function exportValue(record: ValueRecord): object {
  const { name, label, kind, value, unit, uncertainty, readings, instrument, line } = record;
  const quantity = quantityIn(record);
  return {
    name,
    label,
    kind,
    value,
    unit,
    ucum: quantity && codeOf(quantity),
    scale: quantity?.scale,
    uncertainty,
    si: quantity && {
      value: quantity.si,
      uncertainty: expandedUncertainty(quantity),
      ucum: siCode(quantity.dimension),
    },
    readings,
    instrument,
    line,
  };
}
