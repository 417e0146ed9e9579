import { expandedUncertainty, type Quantity } from "../analysis/quantity.ts";
import { shownUnit } from "../analysis/showing.ts";
import { defaultUnit, describeDimension } from "../units/index.ts";
import { fromSI, type Unit } from "../units/unit.ts";
import type { Base } from "./base.ts";
import { type Asked, readCondition } from "./condition.ts";
import { textsOf } from "./fields.ts";
import type { Misread } from "./names.ts";
import type { NoteRecord, ValueRecord } from "./record.ts";

/** A column of a table: a reading or a formula of readings, in one unit. */
export interface Column {
  readonly name: string;
  readonly unit: Unit;
  readonly asked: Asked;
}

/** One value under a column. */
export interface Point {
  readonly note: NoteRecord;
  /** Label of the block that it stands in; empty for none. */
  readonly label: string;
  readonly value: number;
  /** Expanded, k = 2, in the column's unit; undefined where it has none. */
  readonly uncertainty: number | undefined;
  readonly instrument: string | undefined;
}

const DISPLAY_UNIT = /^(.*\S)\s*\[([^\]]*)\]$/;

/**
 * Reads `leak size`, `leak size [in]` or `end pressure / test pressure` as a column. Without a unit of its own
 * it takes that of the first note that has a value.
 */
export function readColumn(
  text: string,
  base: Base,
): { ok: true; column: Column } | ({ ok: false } & Misread) {
  const match = DISPLAY_UNIT.exec(text.trim());
  const formula = match?.[1] ?? text.trim();
  const reading = readCondition(formula, base);
  if (!reading.ok) return reading;
  const asked = reading.condition;
  const at = { from: 0, to: text.length };
  const first = firstQuantity(base, asked);
  if (first === undefined) {
    return {
      ok: false,
      message: `No note has a number for \`${formula}\`.`,
      advice: "Name a reading that is a number.",
      at,
    };
  }
  if (match === null) {
    const unit = commonUnit(first, base);
    if (unit) return { ok: true, column: { name: formula, unit, asked } };
    return {
      ok: false,
      message: `No single unit expresses \`${formula}\`.`,
      advice: "Give one in square brackets.",
      at,
    };
  }
  const spelling = match[2] ?? "";
  const unit = base.readUnit(spelling);
  if (!unit.ok) {
    return {
      ok: false,
      message: `\`${spelling}\` is no unit that is known here.`,
      advice: unit.remark ?? "Write it as in the notes.",
      at,
    };
  }
  if (unit.unit.dimension !== first.dimension) {
    return {
      ok: false,
      message: `\`${formula}\` is ${describeDimension(first.dimension) ?? "of another kind"} and cannot be shown in ${spelling}.`,
      advice: `Its notes use ${first.unit?.spelling ?? "another unit"}.`,
      at,
    };
  }
  return { ok: true, column: { name: formula, unit: unit.unit, asked } };
}

/** The unit that a value is shown in, unless another shop among the notes means something else by it. */
function commonUnit(quantity: Quantity, base: Base): Unit | undefined {
  const unit = shownUnit(quantity);
  if (unit === undefined || unit.spelling === "" || base.readUnit(unit.spelling).ok) return unit;
  return defaultUnit(quantity.dimension, quantity.scale);
}

function firstQuantity(base: Base, asked: Asked): Quantity | undefined {
  for (let i = 0; i < base.notes.length; i++) {
    for (const label of asked.labels(i)) {
      const value = asked.value(i, label);
      if (value?.kind === "quantity") return value;
    }
  }
  return undefined;
}

/** The column's values in one note: its own, else one for each labelled block that has one. */
export function pointsOf(column: Column, index: number, note: NoteRecord): Point[] {
  const points: Point[] = [];
  for (const label of column.asked.labels(index)) {
    const value = column.asked.value(index, label);
    if (value?.kind !== "quantity" || value.dimension !== column.unit.dimension) continue;
    const instrument = instrumentOf(note, column.asked.names, label);
    points.push({ ...inUnit(value, column.unit), note, label, instrument });
  }
  return points;
}

export function inUnit(quantity: Quantity, unit: Unit): { value: number; uncertainty: number | undefined } {
  const expanded = expandedUncertainty(quantity);
  return {
    value: fromSI(quantity.si, unit),
    uncertainty: expanded === undefined ? undefined : expanded / Math.abs(unit.factor),
  };
}

function instrumentOf(note: NoteRecord, names: readonly string[], label: string): string | undefined {
  const [name] = names;
  if (name === undefined) return undefined;
  const fits = note.values.filter((value) => value.name.toLowerCase() === name);
  const own = (value: ValueRecord): boolean => (value.label?.toLowerCase() ?? "") === label;
  return (fits.find(own) ?? fits.find((value) => value.label === undefined))?.instrument;
}

/** What a point is grouped by: a field, a year or month of the date, its instrument, or its block's label. */
export function groupOf(point: Point, by: string): string {
  switch (by) {
    case "instrument":
      return point.instrument ?? "";
    case "label":
      return point.label;
    case "year":
      return point.note.day?.slice(0, 4) ?? "";
    case "month":
      return point.note.day?.slice(0, 7) ?? "";
    default:
      return textsOf(point.note, by).join("; ");
  }
}

export const GROUPINGS: readonly string[] = ["instrument", "label", "year", "month"];
