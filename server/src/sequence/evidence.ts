import { namesIn } from "../analysis/scope.ts";
import type { Dimension as Asked, Evidence } from "../procedures/procedure-schema.ts";
import {
  CURRENT,
  type Dimension,
  LENGTH,
  MASS,
  NONE,
  PRESSURE,
  RESISTANCE,
  TEMPERATURE,
  TIME,
  VOLTAGE,
  VOLUME,
  VOLUME_FLOW,
} from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";
import type { StepEvent } from "./events.ts";
import { type Grounds, isNamed, namesOfReading, quantityInSI, readingsNamed } from "./grounds.ts";
import { mediumIn } from "./medium.ts";
import { saysOneOf } from "./words.ts";

const DIMENSIONS: Readonly<Record<Asked, Dimension>> = {
  pressure: PRESSURE,
  temperature: TEMPERATURE,
  current: CURRENT,
  voltage: VOLTAGE,
  resistance: RESISTANCE,
  time: TIME,
  volume: VOLUME,
  flow: VOLUME_FLOW,
  length: LENGTH,
  mass: MASS,
  share: NONE,
};

/** Whether a piece of evidence stands behind an event. `later` are the events done after it. */
export function isEvidence(
  evidence: Evidence,
  event: StepEvent,
  later: () => Iterable<StepEvent>,
  grounds: Grounds,
): boolean {
  if ("words" in evidence) return saidIn(event.remark, evidence);
  if ("quantity" in evidence) {
    return quantitiesOf(event, evidence.quantity, grounds).some((si) => isWithin(si, evidence));
  }
  if ("reading" in evidence) {
    return readingsNamed(evidence.reading, grounds).some(({ result }) => {
      // A reading that cannot be read has a finding of its own already.
      if (result === undefined) return true;
      return result.kind !== "quantity" || isWithin(result.si, evidence);
    });
  }
  if ("step" in evidence) {
    for (const other of later()) {
      if (other.step.name !== evidence.step) continue;
      if (!other.done || other.outcome === evidence.outcome) return true;
    }
    return false;
  }
  if ("limit" in evidence) return limitKnown(evidence.limit, evidence.statedOnly ?? false, grounds);
  if ("medium" in evidence) return mediumIn(event, grounds) === "allowed";
  return readingsNamed(evidence.instrument, grounds).some(({ definition: { body } }) => {
    if (body.kind !== "line" || body.syntax.kind !== "measured") return false;
    const id = body.syntax.instrument?.key;
    return id !== undefined && grounds.shop.instruments.has(id);
  });
}

const saidIn = (text: string, { words, unless }: Extract<Evidence, { readonly words: unknown }>): boolean =>
  saysOneOf(text, words) && !(unless && saysOneOf(text, unless));

/** Whether a step's own place and remark say what must not be, such as soap at a membrane. */
export function saysOfItself(shownBy: readonly Evidence[] | undefined, event: StepEvent): boolean {
  if (!shownBy) return false;
  const text = `${event.syntax.place?.text ?? ""} ${event.remark}`;
  return shownBy.some((one) => "words" in one && !one.lasting && saidIn(text, one));
}

/**
 * Whether the remark or the note's readings speak against the event: hotter, say, than what would count as cold.
 * When a reading was taken does not matter here, since nothing else shows that it has changed.
 */
export function isContradicted(evidence: Evidence, event: StepEvent, grounds: Grounds): boolean {
  if (!("quantity" in evidence || "reading" in evidence) || evidence.atMost === undefined) return false;
  const said =
    "quantity" in evidence
      ? quantitiesOf(event, evidence.quantity, grounds)
      : readingsNamed(evidence.reading, grounds).flatMap(({ result }) =>
          result?.kind === "quantity" ? result.si : [],
        );
  return said.length > 0 && said.every((si) => !isWithin(si, { atMost: evidence.atMost }));
}

/** The quantities of one kind in a remark, SI. */
function quantitiesOf({ syntax }: StepEvent, asked: Asked, { shop }: Grounds): readonly number[] {
  return syntax.quantities.flatMap(({ number, unit }) => {
    const reading = readUnit(unit.text, shop.units);
    if (!reading.ok || reading.unit.dimension !== DIMENSIONS[asked]) return [];
    return [toSI(number.value, reading.unit)];
  });
}

function isWithin(
  si: number,
  bounds: { readonly atLeast?: string | undefined; readonly atMost?: string | undefined },
): boolean {
  const least = bounds.atLeast === undefined ? undefined : quantityInSI(bounds.atLeast);
  const most = bounds.atMost === undefined ? undefined : quantityInSI(bounds.atMost);
  return (least === undefined || si >= least) && (most === undefined || si <= most);
}

function limitKnown(name: string, statedOnly: boolean, grounds: Grounds): boolean {
  const { note, shop, procedure } = grounds;
  const names = namesOfReading(name, procedure);
  for (const block of note.blocks) {
    if (block.kind !== "limits") continue;
    for (const { syntax } of block.lines) {
      if (syntax.kind === "limit" && namesIn(syntax.condition).some(({ key }) => isNamed(key, names)))
        return true;
    }
  }
  const shops = shop.limits.some(
    (limit) =>
      (limit.procedure === undefined || limit.procedure === procedure.id) && names.includes(limit.quantity),
  );
  if (shops || statedOnly) return shops;
  return procedure.limits.some(
    (limit) =>
      limit.of.readings.some((reading) => names.includes(reading)) &&
      [limit.warnAbove, limit.errorAbove, limit.errorFrom].some(
        (bound) =>
          typeof bound === "string" ||
          (bound !== undefined && readingsNamed(bound.reading, grounds).length > 0),
      ),
  );
}
