import { EXACT, type Quantity, type Value } from "../analysis/quantity.ts";
import { PLAIN_NUMBER, readUnit, toSI } from "../units/index.ts";
import { fullName, type NoteRecord, type ValueRecord } from "./record.ts";

/** A value of one note under the name that was asked for. */
export interface Named {
  /** Label of the block it stands in; empty for a block without one. */
  readonly label: string;
  readonly record: ValueRecord;
}

/** Where a name stands: the number of the note and the value, side by side. */
interface Places {
  readonly notes: number[];
  readonly records: ValueRecord[];
}

type ByNote = ReadonlyMap<number, readonly Named[]>;

/** Names whose values are kept ready by note: as many as somebody asks about in one sitting. */
const MOST_READY = 64;

/** Many notes' records with what finds a name among them. Made once and asked often; an editor keeps it right. */
export class Base {
  readonly #notes: NoteRecord[] = [];
  readonly #byName = new Map<string, Places>();
  /** The name alone for each name with a label before it, and how often it stands there. */
  readonly #labelled = new Map<string, { readonly key: string; times: number }>();
  readonly #ready = new Map<string, ByNote>();

  constructor(notes: readonly NoteRecord[]) {
    for (const note of notes) this.put(this.#notes.length, note);
  }

  get notes(): readonly NoteRecord[] {
    return this.#notes;
  }

  /** Puts a note in the place of another, or behind the last. */
  put(index: number, note: NoteRecord): void {
    const before = this.#notes[index];
    if (before) this.#forget(index, before);
    this.#notes[index] = note;
    this.#ready.clear();
    for (const record of note.values) {
      const key = record.name.toLowerCase();
      let places = this.#byName.get(key);
      if (places === undefined) {
        places = { notes: [], records: [] };
        this.#byName.set(key, places);
      }
      places.notes.push(index);
      places.records.push(record);
      if (record.label === undefined) continue;
      const full = fullName(record).toLowerCase();
      const known = this.#labelled.get(full);
      if (known) known.times++;
      else this.#labelled.set(full, { key, times: 1 });
    }
  }

  /** Takes the last note out. */
  pop(): void {
    const last = this.#notes.pop();
    if (last) this.#forget(this.#notes.length, last);
    this.#ready.clear();
  }

  #forget(index: number, { values }: NoteRecord): void {
    for (const key of new Set(values.map(({ name }) => name.toLowerCase()))) {
      const places = this.#byName.get(key);
      if (places === undefined) continue;
      let kept = 0;
      places.notes.forEach((note, i) => {
        const record = places.records[i];
        if (note === index || record === undefined) return;
        places.notes[kept] = note;
        places.records[kept] = record;
        kept++;
      });
      places.notes.length = kept;
      places.records.length = kept;
      if (kept === 0) this.#byName.delete(key);
    }
    for (const record of values) {
      if (record.label === undefined) continue;
      const full = fullName(record).toLowerCase();
      const known = this.#labelled.get(full);
      if (known && --known.times === 0) this.#labelled.delete(full);
    }
  }

  /** By the number of the note: its values of that name, lower case. Undefined for a name that no note has. */
  named(key: string): ByNote | undefined {
    const ready = this.#ready.get(key);
    if (ready !== undefined) return ready;
    const labelled = this.#labelled.get(key)?.key;
    if (labelled === undefined && !this.#byName.has(key)) return undefined;
    const made = new Map<number, Named[]>();
    const add = (note: number, named: Named): void => {
      const own = made.get(note);
      if (own) own.push(named);
      else made.set(note, [named]);
    };
    const own = this.#byName.get(key);
    own?.records.forEach((record, i) => {
      add(own.notes[i] ?? 0, { label: record.label?.toLowerCase() ?? "", record });
    });
    const among = labelled === undefined ? undefined : this.#byName.get(labelled);
    among?.records.forEach((record, i) => {
      if (record.label !== undefined && fullName(record).toLowerCase() === key)
        add(among.notes[i] ?? 0, { label: "", record });
    });
    if (this.#ready.size >= MOST_READY) this.#ready.clear();
    this.#ready.set(key, made);
    return made;
  }

  /** Every name that some note has, lower case. */
  *names(): Iterable<string> {
    yield* this.#byName.keys();
    yield* this.#labelled.keys();
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
