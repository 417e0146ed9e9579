import { EXACT, type Quantity, type Value } from "../analysis/quantity.ts";
import { type OwnUnits, PLAIN_NUMBER, readUnit, toSI, type Unit, type UnitReading } from "../units/index.ts";
import { storedUnit, unitsFromText } from "./own-units-text.ts";
import { fullName, type NoteRecord, type ValueRecord } from "./record.ts";
import { columnValue } from "./series-columns.ts";

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
  /** Units of the shops' own by the text that records keep of them, with how many notes have them. */
  readonly #units = new Map<string, { readonly units: OwnUnits; times: number }>();

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
    if (note.units !== undefined) {
      const known = this.#units.get(note.units);
      if (known) known.times++;
      else this.#units.set(note.units, { units: unitsFromText(note.units), times: 1 });
    }
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

  #forget(index: number, { values, units }: NoteRecord): void {
    const own = units === undefined ? undefined : this.#units.get(units);
    if (units !== undefined && own && --own.times === 0) this.#units.delete(units);
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

  /** Units of the shop's own that a note belongs to. */
  unitsOf({ units }: NoteRecord): OwnUnits | undefined {
    return units === undefined ? undefined : this.#units.get(units)?.units;
  }

  /** What a unit means to whoever asks about all notes; where shops differ about it, that is said. */
  readUnit(spelling: string): UnitReading {
    let found = readUnit(spelling);
    if (found.ok) return found;
    for (const { units } of this.#units.values()) {
      const reading = readUnit(spelling, units);
      if (reading.ok && found.ok && !sameUnit(reading.unit, found.unit)) {
        const remark =
          "Shops among these notes mean different things by it; write it in a unit that all know.";
        return { ok: false, from: 0, to: spelling.length, nearest: [], remark };
      }
      if (!found.ok) found = reading;
    }
    return found;
  }

  /** Whether some shop among these notes has such a unit of its own. */
  knowsUnit(spelling: string): boolean {
    return [...this.#units.values()].some(({ units }) => readUnit(spelling, units).ok);
  }

  /** Whether some note has a value of that name, lower case; series' columns do not count. */
  hasValue(key: string): boolean {
    return this.#byName.has(key) || this.#labelled.has(key);
  }

  /** By the number of the note: its values of that name, lower case. Undefined for a name that no note has. */
  named(key: string): ByNote | undefined {
    const ready = this.#ready.get(key);
    if (ready !== undefined) return ready;
    const labelled = this.#labelled.get(key)?.key;
    if (labelled === undefined && !this.#byName.has(key)) return this.#columns(key);
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

  /** The figure of a series' column in each note that has it. */
  #columns(key: string): ByNote | undefined {
    const made = new Map<number, readonly Named[]>();
    this.#notes.forEach((note, index) => {
      const record = columnValue(note, key);
      if (record !== undefined) made.set(index, [{ label: "", record }]);
    });
    if (made.size === 0) return undefined;
    if (this.#ready.size >= MOST_READY) this.#ready.clear();
    this.#ready.set(key, made);
    return made;
  }

  /** Every name that some note has, lower case. */
  *names(): Iterable<string> {
    yield* this.#byName.keys();
    yield* this.#labelled.keys();
    yield* new Set(this.#notes.flatMap(({ columns = [] }) => columns.map(({ name }) => name.toLowerCase())));
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

const sameUnit = (a: Unit, b: Unit): boolean =>
  a.factor === b.factor && a.dimension === b.dimension && a.scale === b.scale;

function unitOf({ unit, unitIs }: ValueRecord): Unit | undefined {
  if (unit === undefined) return PLAIN_NUMBER;
  if (unitIs !== undefined) return storedUnit(unit, unitIs);
  const reading = readUnit(unit);
  return reading.ok ? reading.unit : undefined;
}

function makeValue(record: ValueRecord, value: string | number | boolean): Value | undefined {
  if (typeof value === "string") return { kind: "text", text: value };
  if (typeof value === "boolean") return { kind: "truth", value };
  const unit = unitOf(record);
  if (unit === undefined) return undefined;
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
