import type { Dimension } from "./dimension.ts";

/**
 * What a number in this unit stands for. Temperatures in degC and degF are points on a scale;
 * pressures are gauge (a difference from ambient) or absolute.
 *
 * - `plain`: an ordinary ratio quantity.
 * - `point`: a temperature read on a scale (degC, degF). SI value: kelvin.
 * - `kelvin`: K itself, which serves as a point and as a difference.
 * - `difference`: a temperature difference (`delta degC`, `delta degF`).
 * - `gauge`: a pressure against ambient; every bare pressure unit reads so.
 * - `absolute`: a pressure against vacuum.
 */
export type Scale = "plain" | "point" | "kelvin" | "difference" | "gauge" | "absolute";

/** A unit as somebody wrote it, resolved. `SI value = number * factor + offset`. */
export interface Unit {
  /** The spelling in the note, for messages and for showing results in the reader's own words. */
  readonly spelling: string;
  readonly factor: number;
  /** Zero but for degC and degF. */
  readonly offset: number;
  readonly dimension: Dimension;
  readonly scale: Scale;
  /** Said aloud in hovers, for units that the trade reads in more than one way (inH2O, gal). */
  readonly remark?: string;
}

export type UnitReading =
  | { readonly ok: true; readonly unit: Unit }
  | {
      readonly ok: false;
      /** The part that is not known, as a range inside the spelling. */
      readonly from: number;
      readonly to: number;
      /** Nearest known spellings for the whole unit, best first; empty when nothing is near. */
      readonly nearest: readonly string[];
      /** Said when the spelling has a usual other meaning (`C` for coulomb where degC is meant). */
      readonly remark?: string;
    };

export const toSI = (value: number, unit: Unit): number => value * unit.factor + unit.offset;
export const fromSI = (value: number, unit: Unit): number => (value - unit.offset) / unit.factor;
