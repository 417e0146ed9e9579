import type { Quantity } from "../analysis/quantity.ts";
import { expandedUncertainty } from "../analysis/quantity.ts";
import { siCode, ucumCode } from "../units/ucum-code.ts";
import { storedValue } from "./base.ts";
import { fullName, type NoteRecord, type ValueRecord } from "./record.ts";

/** What a column of an exported table holds. */
export type ColumnKind = "text" | "number" | "whole" | "truth" | "day";
export type Cell = string | number | boolean | undefined;

/** One table of an export: rows of cells in the order of its columns. Each row names its note by `path`. */
export interface ExportTable {
  readonly name: string;
  readonly columns: readonly (readonly [name: string, kind: ColumnKind])[];
  rows(note: NoteRecord): readonly (readonly Cell[])[];
}

/** Fields that tell who the customer is; they leave the house only when asked for. */
export const PERSONAL: readonly string[] = ["customer", "vehicle vin", "vehicle plate"];

const NOTE_FIELDS = [
  "job",
  "title",
  "procedure",
  "subject",
  "complaint",
  "cause",
  "correction",
  "parts",
  "by",
  "reviewed by",
  "status",
  "outcome",
  "comeback of",
  "tags",
  "vehicle description",
  "vehicle make",
  "vehicle model",
  "vehicle year",
  "vehicle engine",
  "vehicle odometer",
  "vehicle hours",
  "vehicle serial",
  "vehicle fleet number",
];

/** A quantity as it was written and in SI, wherever a table has one. */
const QUANTITY_COLUMNS: ExportTable["columns"] = [
  ["value", "number"],
  ["unit", "text"],
  ["ucum", "text"],
  ["scale", "text"],
  ["uncertainty", "number"],
  ["si_value", "number"],
  ["si_uncertainty", "number"],
  ["si_ucum", "text"],
];

const columnName = (field: string): string => field.replaceAll(" ", "_");
const text = (value: string | readonly string[] | undefined): string | undefined =>
  value === undefined || typeof value === "string" ? value : value.join("; ");

/** The tables of an export, with or without what tells who the customer is. */
export function exportTables(personal: boolean): readonly ExportTable[] {
  const fields = personal ? [...NOTE_FIELDS, ...PERSONAL] : NOTE_FIELDS;
  return [
    {
      name: "notes",
      columns: [
        ["path", "text"],
        ["date", "day"],
        ...fields.map((field): [string, ColumnKind] => [
          columnName(field),
          field === "vehicle year" ? "whole" : "text",
        ]),
        ["errors", "whole"],
        ["warnings", "whole"],
      ],
      rows: (note) => [
        [
          note.path,
          note.day,
          ...fields.map((field) =>
            field === "vehicle year" ? wholeNumber(text(note.fields[field])) : text(note.fields[field]),
          ),
          count(note, "error"),
          count(note, "warning"),
        ],
      ],
    },
    {
      name: "values",
      columns: [
        ["path", "text"],
        ["name", "text"],
        ["label", "text"],
        ["full_name", "text"],
        ["kind", "text"],
        ...QUANTITY_COLUMNS,
        ["words", "text"],
        ["truth", "truth"],
        ["instrument", "text"],
        ["line", "whole"],
      ],
      rows: (note) => note.values.map((value) => [note.path, ...valueCells(value)]),
    },
    {
      name: "series",
      columns: [
        ["path", "text"],
        ["name", "text"],
        ["over", "text"],
        ["rows", "whole"],
        ["figure", "text"],
        ...QUANTITY_COLUMNS,
        ["line", "whole"],
      ],
      rows: (note) =>
        (note.columns ?? []).flatMap(({ name, over, count: rows, figures, line }) =>
          Object.entries(figures).map(([figure, found]) => [
            note.path,
            name,
            over,
            rows,
            figure,
            ...quantityCells({ name: figure, kind: "derived", ...found, line }),
            line,
          ]),
        ),
    },
    {
      name: "steps",
      columns: [
        ["path", "text"],
        ["step", "text"],
        ["place", "text"],
        ["date", "day"],
        ["time", "text"],
        ["minutes", "number"],
        ["done", "truth"],
        ["outcome", "text"],
        ["remark", "text"],
        ["line", "whole"],
      ],
      rows: (note) =>
        note.steps.map(({ step, place, day, at, minutes, outcome, remark, line }) => [
          note.path,
          step,
          place,
          day,
          at === undefined ? undefined : clock(at),
          minutes,
          at !== undefined,
          outcome,
          remark,
          line,
        ]),
    },
    {
      name: "findings",
      columns: [
        ["path", "text"],
        ["rule", "text"],
        ["severity", "text"],
        ["message", "text"],
        ["accepted", "text"],
        ["line", "whole"],
      ],
      rows: (note) =>
        note.findings.map(({ rule, severity, message, accepted, line }) => [
          note.path,
          rule,
          severity,
          message,
          accepted,
          line,
        ]),
    },
  ];
}

function valueCells(record: ValueRecord): Cell[] {
  const { name, label, kind, value, instrument, line } = record;
  return [
    name,
    label,
    fullName(record),
    kind,
    ...quantityCells(record),
    typeof value === "string" ? value : undefined,
    typeof value === "boolean" ? value : undefined,
    instrument,
    line,
  ];
}

/** In the order of `QUANTITY_COLUMNS`. */
function quantityCells(record: ValueRecord): Cell[] {
  const { value, unit, uncertainty } = record;
  const quantity = quantityIn(record);
  return [
    typeof value === "number" ? value : undefined,
    unit,
    quantity && codeOf(quantity),
    quantity?.scale,
    uncertainty,
    quantity?.si,
    quantity && expandedUncertainty(quantity),
    quantity && siCode(quantity.dimension),
  ];
}

export function quantityIn(record: ValueRecord): Quantity | undefined {
  const value = storedValue(record);
  return value?.kind === "quantity" ? value : undefined;
}

export const codeOf = ({ unit }: Quantity): string | undefined => unit && ucumCode(unit);

const count = (note: NoteRecord, severity: string): number =>
  note.findings.filter((one) => one.severity === severity && one.accepted === undefined).length;

function wholeNumber(written: string | undefined): number | undefined {
  const number = Number(written);
  return written !== undefined && Number.isInteger(number) ? number : undefined;
}

export const clock = (minutes: number): string =>
  `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
