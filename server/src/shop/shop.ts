import type { Expression } from "../language/syntax.ts";
import type { Range, Severity } from "../note/note.ts";
import type { FunctionEntry } from "../physics/function.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { monthsLater } from "../text/real-day.ts";
import type { Dimension } from "../units/dimension.ts";
import type { OwnUnits } from "../units/own-units.ts";
import type { Unit } from "../units/unit.ts";

/** An instrument of the shop file. Quantities in SI unless a unit stands beside them. */
export interface Instrument {
  readonly id: string;
  readonly description?: string;
  readonly measures: Dimension;
  /** The unit its range is written in. */
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
  /** One step of its display, SI; zero where the file does not say. */
  readonly resolution: number;
  /** Parts of its accuracy; a reading's limit of error is the sum of their half-widths. */
  readonly accuracy: readonly AccuracyPart[];
  /**
   * The split of its error, when the file gives one; then readings through it correlate as the parts say.
   * `zero` (SI) and `gain` (a fraction of the reading) are half-widths, shared by all readings through it;
   * `repeatability` (SI) is a standard deviation, each reading's own.
   */
  readonly split?: { readonly zero: number; readonly gain: number; readonly repeatability: number };
  /** `YYYY-MM-DD` of every calibration that the file names, earliest first; `calibrated` is the last of them. */
  readonly calibrations?: readonly string[];
  readonly calibrated?: string;
  /** Months from one calibration to the next. */
  readonly intervalMonths?: number;
  readonly calibrationDue?: string;
  /** Where it stands in the shop file. */
  readonly range: Range;
}

export type AccuracyPart =
  | { readonly kind: "of reading"; readonly fraction: number }
  | { readonly kind: "of full scale"; readonly fraction: number }
  | { readonly kind: "fixed"; readonly halfWidth: number }
  | { readonly kind: "digits"; readonly count: number };

/** Limit of error (half-width, SI) of an instrument at a reading (SI). Undefined when the file gives no accuracy. */
export function limitOfError(instrument: Instrument, reading: number): number | undefined {
  if (instrument.accuracy.length === 0) return undefined;
  let sum = 0;
  for (const part of instrument.accuracy) {
    if (part.kind === "of reading") sum += part.fraction * Math.abs(reading);
    else if (part.kind === "of full scale") sum += part.fraction * (instrument.high - instrument.low);
    else if (part.kind === "digits") sum += part.count * instrument.resolution;
    else sum += part.halfWidth;
  }
  return sum;
}

/**
 * The day by which an instrument was to be calibrated again, as it stood on a day: after the last calibration
 * before it. Before the first one that the file names nothing is known, so that one counts.
 */
export function calibrationDueOn(
  { calibrations, intervalMonths }: Pick<Instrument, "calibrations" | "intervalMonths">,
  day: string,
): string | undefined {
  const last = calibrations?.findLast((one) => one <= day) ?? calibrations?.[0];
  return last && intervalMonths ? monthsLater(last, intervalMonths) : undefined;
}

export interface Material {
  readonly id: string;
  readonly description?: string;
  readonly kind?: string;
  /** Data sheet point: time to skin and time to cure a depth, at a temperature and humidity. SI. */
  readonly skinTime?: number;
  readonly cure?: {
    readonly depth: number;
    readonly time: number;
    readonly temperature?: number;
    readonly humidity?: number;
  };
  readonly tubeVolume?: number;
  /** Data sheet that the figures come from. */
  readonly source?: string;
  readonly range: Range;
}

/** A default limit of the shop for a reading or an assembly. */
export interface ShopLimit {
  readonly procedure?: string;
  /** Name of the reading in lower case. */
  readonly quantity: string;
  readonly warnAbove?: number;
  readonly errorAbove?: number;
  readonly unit: Unit;
  readonly source?: string;
  readonly range: Range;
}

/** The part of a value in which a formula holds, SI; an end that is left out is open. */
export interface Bounds {
  readonly low?: number;
  readonly high?: number;
  /** As the file writes it. */
  readonly says: string;
}

/** A formula of the shop's own: a function of the formula language, told and called as the built-in ones are. */
export interface ShopFormula extends FunctionEntry {
  readonly formula: Expression;
  /** The unit of its result. */
  readonly unit: Unit;
  /** In which values of its parameters it holds, by their names. */
  readonly within: ReadonlyMap<string, Bounds>;
  /** In which results it holds. */
  readonly resultWithin?: Bounds;
  readonly range: Range;
}

export interface ShopProblem {
  readonly range: Range;
  readonly message: string;
  readonly advice: string;
  /** The rule that it breaks, where it is one of the notes' rules. */
  readonly rule?: string;
  /** Left out: an error. */
  readonly severity?: Severity;
  readonly why?: string;
  /** Where all that was looked at stands, when the finding is of something that is not there. */
  readonly within?: Range;
}

/** The shop file, read. A note without a shop file gets `noShop`. */
export interface Shop {
  readonly present: boolean;
  /** By id in lower case, the form in which notes are compared with them. */
  readonly instruments: ReadonlyMap<string, Instrument>;
  /** By name in lower case. */
  readonly materials: ReadonlyMap<string, Material>;
  readonly limits: readonly ShopLimit[];
  /** Metres above sea level. */
  readonly altitude?: number;
  /** The built-in procedures with the shop's own laid over them, by id. */
  readonly procedures: ReadonlyMap<string, Procedure>;
  /** Units of the shop's own; undefined where it has none, as most shops do. */
  readonly units: OwnUnits | undefined;
  /** Where each spelling of such a unit is defined. */
  readonly unitPlaces: ReadonlyMap<string, Range>;
  /** Formulas of the shop's own by name in lower case; undefined stands for one with a mistake. */
  readonly formulas: ReadonlyMap<string, ShopFormula | undefined>;
  readonly problems: readonly ShopProblem[];
}
