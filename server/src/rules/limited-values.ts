import type { Evaluated } from "../analysis/evaluation.ts";
import { inWords } from "../analysis/showing.ts";
import { markedLines } from "../note/marked-lines.ts";
import type { Placed, Range } from "../note/note.ts";
import { findStep, type Procedure, plainWords, type Step } from "../procedures/procedure.ts";
import type { DefaultLimit } from "../procedures/procedure-schema.ts";
import { CURRENT, type Dimension, PRESSURE, TEMPERATURE } from "../units/dimension.ts";
import { readUnit, unitWithScale } from "../units/index.ts";
import { fromSI, toSI, type Unit } from "../units/unit.ts";
import { rangeOn, type Subject } from "./rule.ts";
import { greatestOf } from "./taken-readings.ts";

/** Something of the note that a default limit is about. */
export interface LimitedValue {
  /** The reading's name, or the step's words. */
  readonly name: string;
  readonly kind: "reading" | "step";
  /** SI. */
  readonly si: number;
  readonly unit: Unit;
  readonly range: Range;
  /** Its definition, for a reading. */
  readonly evaluated?: Evaluated;
}

const DIMENSIONS: Readonly<Partial<Record<DefaultLimit["of"]["reads"], Dimension>>> = {
  pressure: PRESSURE,
  temperature: TEMPERATURE,
  current: CURRENT,
};

/** Readings and step quantities that a default limit is about. */
export function* valuesUnder(limit: DefaultLimit, subject: Subject): Iterable<LimitedValue> {
  const dimension = DIMENSIONS[limit.of.reads];
  if (!dimension) return;
  const { readings } = limit.of;
  for (const evaluated of subject.evaluation.endingIn(readings)) {
    const { definition, result } = evaluated;
    if (result?.kind !== "quantity" || result.dimension !== dimension || !result.unit) continue;
    const { body } = definition;
    // Of a logged column the highest row counts, and it is told of at the column's head.
    const syntax = body.kind === "line" ? body.syntax : undefined;
    const span =
      syntax?.kind === "measured"
        ? syntax.value.span
        : syntax?.kind === "formula"
          ? syntax.formula.span
          : definition.nameSpan;
    yield {
      name: definition.name,
      kind: "reading",
      ...asGauge(result.sampling ? greatestOf(result.sampling.values) : result.si, result.unit, subject),
      range: rangeOn(body.placed, span),
      evaluated,
    };
  }
  yield* stepValues(limit, dimension, subject);
}

/** The steps of a procedure that a limit is about. */
function stepsOf(limit: DefaultLimit, procedure: Procedure): ReadonlySet<Step> {
  const known = stepsKnown.get(limit);
  if (known?.procedure === procedure) return known.steps;
  const steps = new Set(
    procedure.steps.filter(({ name }) => limit.of.steps.some((one) => plainWords(one) === plainWords(name))),
  );
  stepsKnown.set(limit, { procedure, steps });
  return steps;
}

const stepsKnown = new WeakMap<DefaultLimit, { procedure: Procedure; steps: ReadonlySet<Step> }>();

function* stepValues(limit: DefaultLimit, dimension: Dimension, subject: Subject): Iterable<LimitedValue> {
  const { procedure, note } = subject;
  if (!procedure) return;
  const wanted = stepsOf(limit, procedure);
  for (const { block, index } of markedLines(note, "quantity")) {
    const syntax = block.kind === "steps" ? block.content.trees[index] : undefined;
    if (syntax?.kind !== "step") continue;
    const found = findStep(procedure, syntax.step.text);
    if (!found.ok || !wanted.has(found.step)) continue;
    let highest: LimitedValue | undefined;
    for (const quantity of syntax.quantities) {
      const reading = readUnit(quantity.unit.text, subject.shop.units);
      if (!reading.ok || reading.unit.dimension !== dimension) continue;
      const { si, unit } = asGauge(toSI(quantity.number.value, reading.unit), reading.unit, subject);
      // Of several the highest counts: it is what the part went through.
      if (highest && highest.si >= si) continue;
      highest = {
        name: syntax.step.text,
        kind: "step",
        si,
        unit,
        range: rangeOn(block.lines[index] as Placed<unknown>, quantity.span),
      };
    }
    if (highest) yield highest;
  }
}

/** Limits on pressure are gauge; an absolute pressure counts as what it is above ambient. */
function asGauge(
  si: number,
  unit: Unit,
  { evaluation, shop }: Subject,
): { readonly si: number; readonly unit: Unit } {
  if (unit.scale !== "absolute") return { si, unit };
  const above = si - evaluation.context("", () => undefined).ambient().quantity.si;
  return { si: above, unit: unitWithScale(unit, "gauge", shop.units) ?? unit };
}

/** A value or bound in the unit in which the value was written. */
export const shownIn = (si: number, unit: Unit): string => inWords(fromSI(si, unit), null, unit.spelling);
