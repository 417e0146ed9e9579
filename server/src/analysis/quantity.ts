import type { Dimension } from "../units/dimension.ts";
import type { Scale, Unit } from "../units/unit.ts";

/**
 * One independent cause of uncertainty: a reading's own error, the scatter of repeated readings, a default
 * that a function rests on. Two values that lean on the same source are correlated through it.
 */
export interface Source {
  readonly says: string;
  /** Standard uncertainty, in SI units of what it belongs to. */
  readonly standard: number;
  /**
   * The instrument through which it came. Errors of two readings through one instrument correlate to an
   * unknown degree. Left out where the shop file splits the instrument's error.
   */
  readonly instrument?: string;
  /** Spread like chance (a normal distribution); else anywhere within limits alike (a rectangle). */
  readonly normal?: boolean;
}

/** How a value moves with each of its sources (partial derivatives, JCGM 100:2008, clause 5.1.3 from memory). */
export type Sensitivities = ReadonlyMap<Source, number>;

export const EXACT: Sensitivities = new Map();

/** Repeated readings or a series' column behind a value. */
export interface Sampling {
  /** SI values in the order they were taken. */
  readonly values: readonly number[];
  /** Standard uncertainty of one reading by its resolution, SI. */
  readonly resolution: number;
  /** Sensitivities of what all readings share, without their scatter. */
  readonly shared: Sensitivities;
  /** Whether it is a whole column of a series rather than one thing read several times. */
  readonly column?: true;
}

export interface Quantity {
  readonly kind: "quantity";
  /** In SI units; a point on a temperature scale in kelvin. */
  readonly si: number;
  readonly dimension: Dimension;
  readonly scale: Scale;
  /** The unit to show it in; undefined: the default of its dimension. */
  readonly unit: Unit | undefined;
  readonly by: Sensitivities;
  readonly sampling?: Sampling;
  /** How its uncertainty was found where first order would not do. */
  readonly simulated?: string;
}

export type Value =
  | Quantity
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "truth"; readonly value: boolean };

/** A value, or `undefined` where none can be worked out and a finding already says why. */
export type Result = Value | undefined;

/** Sum of sensitivities, each scaled. */
export function combine(a: Sensitivities, byA: number, b: Sensitivities, byB: number): Sensitivities {
  if (b.size === 0) return scaled(a, byA);
  if (a.size === 0) return scaled(b, byB);
  const sum = new Map<Source, number>();
  for (const [source, c] of a) sum.set(source, c * byA);
  for (const [source, c] of b) sum.set(source, (sum.get(source) ?? 0) + c * byB);
  return sum;
}

export function scaled(a: Sensitivities, by: number): Sensitivities {
  if (by === 1 || a.size === 0) return a;
  const out = new Map<Source, number>();
  for (const [source, c] of a) out.set(source, c * by);
  return out;
}

/**
 * Combined standard uncertainty, SI. Readings through one instrument are taken once as independent and once
 * as fully correlated (JCGM 100:2008, clause 5.2 from memory), and the larger is kept, instrument by instrument.
 */
export function standardUncertainty(by: Sensitivities): number {
  let variance = 0;
  let byInstrument: Map<string, { apart: number; together: number }> | undefined;
  for (const [source, c] of by) {
    const part = c * source.standard;
    if (source.instrument === undefined) {
      variance += part * part;
      continue;
    }
    byInstrument ??= new Map();
    const group = byInstrument.get(source.instrument) ?? { apart: 0, together: 0 };
    group.apart += part * part;
    group.together += part;
    byInstrument.set(source.instrument, group);
  }
  for (const group of byInstrument?.values() ?? []) {
    variance += Math.max(group.apart, group.together * group.together);
  }
  return Math.sqrt(variance);
}

/** Coverage factor of every expanded uncertainty shown. */
export const COVERAGE = 2;

/** Expanded uncertainty (k = 2), SI; undefined where nothing is uncertain. */
export function expandedUncertainty(quantity: Quantity): number | undefined {
  if (quantity.by.size === 0) return undefined;
  const u = standardUncertainty(quantity.by);
  return Number.isFinite(u) ? COVERAGE * u : undefined;
}

export interface Contribution {
  readonly says: string;
  /** Share of the variance, 0 to 1. */
  readonly share: number;
}

/** What the uncertainty is made of, greatest first. */
export function contributions(by: Sensitivities): readonly Contribution[] {
  const parts = [...by].map(([source, c]) => ({ says: source.says, square: (c * source.standard) ** 2 }));
  const total = parts.reduce((sum, part) => sum + part.square, 0);
  if (!(total > 0)) return [];
  return parts
    .filter((part) => part.square > 0)
    .map((part) => ({ says: part.says, share: part.square / total }))
    .sort((a, b) => b.share - a.share);
}
