import { EXACT, type Quantity } from "../analysis/quantity.ts";
import { FRONT_MATTER_KEYS, VEHICLE_KEYS } from "../note/front-matter-schema.ts";
import { PLAIN_NUMBER, readUnit, toSI } from "../units/index.ts";
import type { NoteRecord } from "./record.ts";

/** What a condition may name besides readings: the front matter, by the names it has there. */
const TEXTS = FRONT_MATTER_KEYS.filter((key) => key !== "vehicle" && key !== "date");
const VEHICLE = VEHICLE_KEYS.map((key) => `vehicle ${key}`);
/** Kept as text in the note and measured in a condition. */
const MEASURED: ReadonlySet<string> = new Set(["vehicle year", "vehicle odometer", "vehicle hours"]);
const COUNTED: ReadonlySet<string> = new Set(["errors", "warnings"]);

export const FIELDS: readonly string[] = [...TEXTS, ...VEHICLE, "date", "path", ...COUNTED];
const known: ReadonlySet<string> = new Set(FIELDS);

export const isField = (key: string): boolean => known.has(key);
export const isMeasuredField = (key: string): boolean => MEASURED.has(key) || COUNTED.has(key);

/** The texts of a field; a list has several, and a note without the field none. */
export function textsOf(note: NoteRecord, key: string): readonly string[] {
  if (key === "date") return note.day === undefined ? [] : [note.day];
  if (key === "path") return [note.path];
  const text = note.fields[key];
  return text === undefined ? [] : typeof text === "string" ? [text] : text;
}

/** The quantity of a field that holds one, such as an odometer's `41 200 km`. */
export function quantityOfField(note: NoteRecord, key: string): Quantity | undefined {
  if (COUNTED.has(key)) {
    const severity = key === "errors" ? "error" : "warning";
    const open = note.findings.filter((one) => one.severity === severity && one.accepted === undefined);
    return plain(open.length);
  }
  const text = textsOf(note, key)[0];
  const match = text === undefined ? null : /^([\d\s\u00a0.,']+?)\s*(\p{L}.*)?$/u.exec(text);
  if (!match) return undefined;
  // Thousands may be set apart by blanks, points or commas; no odometer shows decimals that matter here.
  const number = Number((match[1] ?? "").replace(/[\s\u00a0']|[.,](?=\d{3}(?:\D|$))/g, "").replace(",", "."));
  if (!Number.isFinite(number)) return undefined;
  const spelling = match[2] ?? (key === "vehicle hours" ? "h" : key === "vehicle odometer" ? "km" : "");
  const reading = spelling === "" ? ({ ok: true, unit: PLAIN_NUMBER } as const) : readUnit(spelling);
  if (!reading.ok) return undefined;
  const { unit } = reading;
  return {
    kind: "quantity",
    si: toSI(number, unit),
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by: EXACT,
  };
}

const plain = (si: number): Quantity => ({
  kind: "quantity",
  si,
  dimension: PLAIN_NUMBER.dimension,
  scale: PLAIN_NUMBER.scale,
  unit: PLAIN_NUMBER,
  by: EXACT,
});
