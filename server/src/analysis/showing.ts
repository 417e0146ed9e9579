import { defaultUnit } from "../units/index.ts";
import { fromSI, type Unit } from "../units/unit.ts";
import type { Shown } from "./analysis.ts";
import { expandedUncertainty, type Quantity, type Value } from "./quantity.ts";
import { decimalsFor, magnitude, roundHalfEven } from "./rounding.ts";

/** The unit in which a quantity is shown; undefined for a dimension that no unit expresses. */
export const shownUnit = (quantity: Quantity): Unit | undefined =>
  quantity.unit ?? defaultUnit(quantity.dimension, quantity.scale);

const shownBefore = new WeakMap<Value, Shown>();

/** A value ready to be shown, with its expanded uncertainty. Remembered: an editor asks at every keystroke. */
export function show(value: Value): Shown {
  const known = shownBefore.get(value);
  if (known) return known;
  const made = makeShown(value);
  shownBefore.set(value, made);
  return made;
}

function makeShown(value: Value): Shown {
  if (value.kind === "text") return { kind: "text", text: value.text };
  if (value.kind === "truth") return { kind: "truth", text: value.value ? "yes" : "no" };
  const unit = shownUnit(value);
  // Thirteen digits drop what conversion there and back leaves in the last places.
  const number = Number((unit ? fromSI(value.si, unit) : value.si).toPrecision(13));
  const expanded = expandedUncertainty(value);
  const uncertainty = expanded === undefined ? null : expanded / Math.abs(unit?.factor ?? 1);
  return new ShownQuantity(number, unit?.spelling ?? "(SI)", uncertainty);
}

/** Rounds for reading only when somebody reads: most values of a large check are never shown. */
class ShownQuantity {
  readonly kind = "quantity";
  #text: string | undefined;

  constructor(
    readonly value: number,
    readonly unit: string,
    readonly uncertainty: number | null,
  ) {}

  get text(): string {
    this.#text ??= inWords(this.value, this.uncertainty, this.unit);
    return this.#text;
  }
}

/** `0.39 mm ± 0.04 mm`; a point on a scale has its uncertainty in kelvin or in the scale's own degrees. */
export function inWords(value: number, uncertainty: number | null, unit: string): string {
  const behind = unit === "" ? "" : ` ${unit}`;
  if (uncertainty === null || !(uncertainty > 0)) return `${plainNumber(value)}${behind}`;
  const decimals = uncertaintyDecimals(uncertainty);
  if (decimals > 9 || magnitude(value) > 8) {
    return `${plainNumber(value)}${behind} ± ${Number(uncertainty.toPrecision(2))}${behind}`;
  }
  return `${roundHalfEven(value, decimals)}${behind} ± ${roundHalfEven(uncertainty, decimals)}${behind}`;
}

/**
 * Decimals that an uncertainty is worth: two significant digits when the first is 1 or 2, else one. The value
 * is cut at the same place (JCGM 100:2008, clause 7.2.6 from memory: at most two significant digits).
 */
function uncertaintyDecimals(uncertainty: number): number {
  const first = Number(uncertainty.toExponential(14)[0]);
  return decimalsFor(uncertainty, first <= 2 ? 2 : 1);
}

/** An uncertainty by itself, with at most two significant digits. */
export function uncertaintyInWords(uncertainty: number, unit: string): string {
  const decimals = uncertaintyDecimals(uncertainty);
  const number =
    uncertainty > 0 && decimals >= 0 && decimals <= 9
      ? roundHalfEven(uncertainty, decimals)
      : Number(uncertainty.toPrecision(2));
  return unit === "" ? `${number}` : `${number} ${unit}`;
}

/** Four significant digits without trailing noise, for values that carry no uncertainty. */
function plainNumber(value: number): string {
  if (value === 0) return "0";
  if (Number.isInteger(value) && Math.abs(value) < 1e9) return String(value);
  const size = magnitude(value);
  if (size > 8 || size < -5) return Number(value.toPrecision(4)).toExponential();
  return String(Number(roundHalfEven(value, Math.max(0, decimalsFor(value, 4)))));
}

/** Decimals for recording a result in the note. */
export function recordingDecimals(value: number, uncertainty: number | null): number {
  if (uncertainty !== null && uncertainty > 0) return Math.min(9, uncertaintyDecimals(uncertainty));
  return Math.max(0, decimalsFor(value, 4));
}
