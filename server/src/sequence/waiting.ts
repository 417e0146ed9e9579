import type { Step } from "../procedures/procedure.ts";
import type { Condition } from "../procedures/procedure-schema.ts";
import { TIME } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";
import type { StepEvent } from "./events.ts";
import { type Grounds, quantityInSI, readingsNamed } from "./grounds.ts";
import { traitsOf } from "./traits.ts";

/** How long a condition takes, and whose figure that is. */
export interface Waiting {
  readonly minutes: number;
  /** "24 h by the shop file's `flowable silicone`". */
  readonly says: string;
}

/**
 * The time that a condition takes: the note's figure, else the shop's for the material that a remark names,
 * else the procedure's own.
 */
export function waitingFor(
  takes: NonNullable<Condition["takes"]>,
  remarks: readonly string[],
  grounds: Grounds,
): Waiting {
  for (const name of takes.readings ?? []) {
    for (const { definition, result } of readingsNamed(name, grounds)) {
      // A figure that cannot be read has its own finding; nothing more is built on it.
      if (result === undefined) return { minutes: 0, says: `by \`${definition.name}\`` };
      if (result.kind !== "quantity" || result.dimension !== TIME) continue;
      return {
        minutes: result.si / 60,
        says: `${hours(result.si / 60)} by the note's \`${definition.name}\``,
      };
    }
  }
  for (const remark of remarks) {
    const text = remark.toLowerCase();
    let best: { readonly id: string; readonly time: number; readonly depth: number } | undefined;
    for (const [id, { cure }] of grounds.shop.materials) {
      if (!cure || !text.includes(id) || (best && best.id.length >= id.length)) continue;
      best = { id, time: cure.time, depth: cure.depth };
    }
    if (best) {
      const depth = `for a bead of ${Number((best.depth * 1000).toPrecision(3))} mm`;
      return {
        minutes: best.time / 60,
        says: `${hours(best.time / 60)} ${depth} by the shop file's \`${best.id}\``,
      };
    }
  }
  const minutes = (quantityInSI(takes.otherwise) ?? 0) / 60;
  return { minutes, says: `${takes.otherwise} (${takes.source})` };
}

/** What takes so many minutes does not end on the day on which it began. Common practice, no source. */
const OVER_NIGHT = 8 * 60;

/** Conditions that a step costs because a night passes while it lasts: curing is not watched. */
export function lostWhileWaiting(step: Step, grounds: Grounds): readonly string[] {
  const { conditions } = grounds.procedure;
  const long = step.makes.some((name) => {
    const takes = conditions.get(name)?.takes;
    return takes !== undefined && waitingFor(takes, [], grounds).minutes >= OVER_NIGHT;
  });
  return long ? traitsOf(grounds.procedure).lostOvernight : [];
}

/** A duration as a person says it. */
export function hours(minutes: number): string {
  if (minutes < 90) return `${Math.round(minutes)} min`;
  const whole = Math.floor(minutes / 60);
  const rest = Math.round(minutes - whole * 60);
  return rest === 0 ? `${whole} h` : `${whole} h ${rest} min`;
}

/** The longest time that a remark names, in minutes. */
export function durationIn(event: StepEvent, { shop }: Grounds): number | undefined {
  let longest: number | undefined;
  for (const { unit, number } of event.syntax.quantities) {
    const reading = readUnit(unit.text, shop.units);
    if (!reading.ok || reading.unit.dimension !== TIME) continue;
    longest = Math.max(longest ?? 0, toSI(number.value, reading.unit) / 60);
  }
  return longest;
}

/** From when the time of something that a step made counts: its end, where it goes on for a while. Minutes. */
export const startOfWait = (event: StepEvent): number | undefined =>
  event.step.time ? (event.until ?? event.at) : event.at;
