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

/** `24 h` of a procedure file. */
export function quantityInSI(written: string): number | undefined {
  const parts = /^([+-]?\d+(?:\.\d+)?) (\S.*)$/.exec(written);
  const reading = parts?.[2] === undefined ? undefined : readUnit(parts[2]);
  return reading?.ok ? toSI(Number(parts?.[1]), reading.unit) : undefined;
}

/** The name and the other names of a reading that the procedure expects. */
export function namesOfReading(name: string, procedure: Procedure): readonly string[] {
  const expected = procedure.readings.find(
    (reading) => reading.name === name || (reading.aliases ?? []).includes(name),
  );
  return [name, ...(expected ? [expected.name, ...(expected.aliases ?? [])] : [])].map((one) =>
    one.toLowerCase(),
  );
}

export const isNamed = (key: string, names: readonly string[]): boolean =>
  names.some((name) => key === name || key.endsWith(` ${name}`));

const lookedUp = new WeakMap<Evaluation, Map<string, readonly Evaluated[]>>();

/** Readings of the note with this name or one of its other names, also inside labelled blocks. */
export function readingsNamed(name: string, { evaluation, procedure }: Grounds): readonly Evaluated[] {
  const known = lookedUp.get(evaluation) ?? new Map<string, readonly Evaluated[]>();
  lookedUp.set(evaluation, known);
  const before = known.get(name);
  if (before) return before;
  const names = namesOfReading(name, procedure);
  const found: Evaluated[] = [];
  for (const evaluated of evaluation.byKey.values()) {
    if (isNamed(evaluated.definition.key.toLowerCase(), names)) found.push(evaluated);
  }
  known.set(name, found);
  return found;
}
