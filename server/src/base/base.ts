import { EXACT, type Quantity, type Value } from "../analysis/quantity.ts";
import { PLAIN_NUMBER, readUnit, toSI } from "../units/index.ts";
import { fullName, type NoteRecord, type ValueRecord } from "./record.ts";

/** A value of one note under the name that was asked for. */
export interface Named {
  /** Label of the block it stands in; empty for a block without one. */
  readonly label: string;
  readonly record: ValueRecord;
}

/** Many notes' records with what finds a name among them. Made once and asked often. */
export class Base {
  readonly #byName = new Map<string, Map<number, Named[]>>();

  constructor(readonly notes: readonly NoteRecord[]) {
    notes.forEach((note, index) => {
      for (const record of note.values) {
        const label = record.label?.toLowerCase() ?? "";
        this.#add(record.name.toLowerCase(), index, { label, record });
        if (label !== "") this.#add(fullName(record).toLowerCase(), index, { label: "", record });
      }
    });
  }

  #add(key: string, note: number, named: Named): void {
    let notes = this.#byName.get(key);
    if (notes === undefined) {
      notes = new Map();
      this.#byName.set(key, notes);
    }
    const own = notes.get(note);
    if (own) own.push(named);
    else notes.set(note, [named]);
  }

  /** By the number of the note: its values of that name, lower case. */
  named(key: string): ReadonlyMap<number, readonly Named[]> | undefined {
    return this.#byName.get(key);
  }

  /** Every name that some note has, lower case. */
  names(): Iterable<string> {
    return this.#byName.keys();
  }
}

const values = new WeakMap<ValueRecord, Value>();

/** The value as formulas take it. Its uncertainty stands alone: what it shared with others is not kept. */
export function storedValue(record: ValueRecord): Value | undefined {
  if (record.value === undefined) return undefined;
  const known = values.get(record);
  if (known) return known;
  const made = makeValue(record, record.value);
  if (made) values.set(record, made);
  return made;
}

function makeValue(record: ValueRecord, value: string | number | boolean): Value | undefined {
  if (typeof value === "string") return { kind: "text", text: value };
  if (typeof value === "boolean") return { kind: "truth", value };
  const reading =
    record.unit === undefined ? ({ ok: true, unit: PLAIN_NUMBER } as const) : readUnit(record.unit);
  if (!reading.ok) return undefined;
  const { unit } = reading;
  const { uncertainty, readings } = record;
  const standard = ((uncertainty ?? 0) * Math.abs(unit.factor)) / 2;
  const quantity: Quantity = {
    kind: "quantity",
    si: toSI(value, unit),
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by: standard > 0 ? new Map([[{ says: record.name, standard }, 1]]) : EXACT,
    ...(readings
      ? { sampling: { values: readings.map((one) => toSI(one, unit)), resolution: 0, shared: EXACT } }
      : {}),
  };
  return quantity;
}
