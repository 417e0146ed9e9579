import type { Evaluated, Evaluation } from "../analysis/evaluation.ts";
import type { Note } from "../note/note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import type { Shop } from "../shop/shop.ts";
import { readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";

/** What a history is read against: the note with its values, the shop and the procedure. */
export interface Grounds {
  readonly note: Note;
  readonly shop: Shop;
  readonly evaluation: Evaluation;
  readonly procedure: Procedure;
}

const quantities = new Map<string, number | undefined>();

/** `24 h` of a procedure file, of which there are few. */
export function quantityInSI(written: string): number | undefined {
  const known = quantities.get(written);
  if (known !== undefined) return known;
  const parts = /^([+-]?\d+(?:\.\d+)?) (\S.*)$/.exec(written);
  const reading = parts?.[2] === undefined ? undefined : readUnit(parts[2]);
  const si = reading?.ok ? toSI(Number(parts?.[1]), reading.unit) : undefined;
  quantities.set(written, si);
  return si;
}

/** The name and the other names of a reading that the procedure expects. */
export function namesOfReading(name: string, procedure: Procedure): readonly string[] {
  const known = namesKnown.get(procedure) ?? new Map<string, readonly string[]>();
  namesKnown.set(procedure, known);
  const names = known.get(name) ?? namesOf(name, procedure);
  known.set(name, names);
  return names;
}

const namesKnown = new WeakMap<Procedure, Map<string, readonly string[]>>();

function namesOf(name: string, procedure: Procedure): readonly string[] {
  const expected = procedure.readings.find(
    (reading) => reading.name === name || (reading.aliases ?? []).includes(name),
  );
  return [name, ...(expected ? [expected.name, ...(expected.aliases ?? [])] : [])].map((one) =>
    one.toLowerCase(),
  );
}

/** `retest test pressure` is a `test pressure` too. */
export const isNamed = (key: string, names: readonly string[]): boolean =>
  names.some((name) => key === name || key.endsWith(` ${name}`));

/** Readings of the note with this name or one of its other names, also inside labelled blocks. */
export function readingsNamed(name: string, { evaluation, procedure }: Grounds): readonly Evaluated[] {
  return evaluation.endingIn(namesOfReading(name, procedure));
}
