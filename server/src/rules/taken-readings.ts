import { evaluatedLines } from "../analysis/evaluated-lines.ts";
import type { Evaluated } from "../analysis/evaluation.ts";
import type { Quantity } from "../analysis/quantity.ts";
import type { MeasuredLine, MeasuredValue, Name } from "../language/syntax.ts";
import type { Placed, Range } from "../note/note.ts";
import type { Instrument } from "../shop/shop.ts";
import type { Unit } from "../units/unit.ts";
import { rangeOn, type Subject } from "./rule.ts";

/** A number that somebody read through an instrument, with both. */
export interface TakenReading {
  readonly evaluated: Evaluated;
  readonly key: string;
  readonly name: string;
  readonly placed: Placed<unknown>;
  readonly line: MeasuredLine;
  readonly value: Extract<MeasuredValue, { kind: "number" }>;
  readonly quantity: Quantity;
  readonly unit: Unit;
  /** SI values, one or several. */
  readonly values: readonly number[];
  readonly via: Name;
  readonly viaRange: Range;
  /** The shop's instrument of that name, when it has one. */
  readonly instrument: Instrument | undefined;
}

const gathered = new WeakMap<Subject["evaluation"], readonly TakenReading[]>();

/** Every reading that names its instrument, in the order of the note. Gathered once for all rules. */
export function takenReadings(subject: Subject): readonly TakenReading[] {
  const known = gathered.get(subject.evaluation);
  if (known) return known;
  const made = [...gather(subject)];
  gathered.set(subject.evaluation, made);
  return made;
}

function* gather({ note, evaluation, shop }: Subject): Iterable<TakenReading> {
  for (const evaluated of evaluatedLines(note, evaluation, "instrument")) {
    const { definition, result } = evaluated;
    const { body } = definition;
    if (body.kind !== "line" || body.syntax.kind !== "measured" || !body.syntax.instrument) continue;
    const { value, instrument: via } = body.syntax;
    if (value.kind !== "number" || result?.kind !== "quantity" || !result.unit) continue;
    yield {
      evaluated,
      key: definition.key,
      name: definition.name,
      placed: body.placed,
      line: body.syntax,
      value,
      quantity: result,
      unit: result.unit,
      values: result.sampling?.values ?? [result.si],
      via,
      viaRange: rangeOn(body.placed, via.span),
      instrument: shop.instruments.get(via.key),
    };
  }
}

/** Whether a reading of this kind can come from the instrument: the same quantity, counted from the same zero. */
export function canRead(instrument: Instrument, quantity: Quantity): boolean {
  if (instrument.measures !== quantity.dimension) return false;
  return (instrument.unit.scale === "absolute") === (quantity.scale === "absolute");
}

/** Among several numbers the one that lies furthest out. */
export const greatestOf = (values: readonly number[]): number =>
  values.reduce((greatest, v) => Math.max(greatest, v), Number.NEGATIVE_INFINITY);
