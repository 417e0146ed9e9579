import type { Dimension } from "../units/dimension.ts";
import type { Scale } from "../units/unit.ts";
import type { Dual } from "./dual.ts";

/**
 * What is told of a function of the formula language, whether it is built in or the shop's own. Completion,
 * hover and the checks of its arguments are made from it.
 */
export interface FunctionEntry {
  /** Lower-case words with single spaces, as the note writes it. */
  readonly name: string;
  /** One sentence: what it gives. */
  readonly says: string;
  readonly parameters: readonly Parameter[];
  readonly gives: Gives;
  /** The equation in plain symbols, for the hover's working. */
  readonly equation: string;
  /** What the result rests on. */
  readonly assumes: readonly string[];
  /** Where the result holds, in words. */
  readonly validity: string;
  readonly source: string;
  readonly caution?: string;
  /** Runs as a test: the formula as a note writes it, and what it gives. */
  readonly examples: readonly FunctionExample[];
}

/** One built-in function is one entry of this shape; the function reference is made from it too. */
export interface FormulaFunction extends FunctionEntry {
  readonly area: "leak and flow" | "moist air" | "electrical" | "sealing" | "instruments and readings";
  compute(inputs: Inputs): Outcome;
  /** Sentences that say which input or result is outside the validity range; empty when all is well. */
  outside?(inputs: Inputs, result: number): readonly string[];
  /** Sentences for the hover that depend on how it was called (an argument left out, say). */
  remarks?(inputs: Inputs): readonly string[];
}

export interface FunctionExample {
  /** The formula; lines before the last one are readings that it uses, as a note writes them. */
  readonly formula: string;
  /** Value in the unit shown, as `0.389 mm`; compared to the digits shown. */
  readonly gives: string;
  /** Where the expected value comes from. */
  readonly source: string;
}

export interface Parameter {
  readonly name: string;
  /** One phrase for signature help. */
  readonly says: string;
  readonly takes: Takes;
  /** Absent: the argument must be given. */
  readonly optional?: Optional;
  /** Which figure of a named material stands in when the argument is not given. */
  readonly ofMaterial?: MaterialFigure;
}

export type Takes =
  | {
      readonly kind: "quantity";
      /** `any` takes every dimension; with `like` it must equal that parameter's. */
      readonly dimension: Dimension | "any";
      readonly like?: string;
      /** `any`: points, gauge and absolute pressures are all welcome and the result follows. */
      readonly scale: Scale | "any";
      /** A unit to show in messages and completions. */
      readonly unit?: string;
    }
  | { readonly kind: "choice"; readonly of: readonly string[] }
  /** A material of the shop file by its name; its data sheet gives the arguments marked `ofMaterial`. */
  | { readonly kind: "material" }
  /** Repeated readings or a series' column. */
  | { readonly kind: "samples"; readonly dimension: Dimension | "any"; readonly like?: string };

/** Figures of a material's data sheet that a function can take. */
export type MaterialFigure =
  | "skin time"
  | "cure depth"
  | "cure time"
  | "cure temperature"
  | "cure humidity"
  | "tube volume";

export type Optional =
  /** A value that stands in for it, with the half-width it may be off by, both in `unit`; `1` is a plain number. */
  | { readonly value: number; readonly unit: string; readonly tolerance: number; readonly says: string }
  /** The note's `ambient pressure`, else the shop's altitude, else 101.325 kPa. */
  | { readonly from: "ambient pressure" }
  | { readonly choice: string; readonly says: string }
  /** The expanded uncertainty (k = 2, SI) of the argument for the parameter named; missing where it has none. */
  | { readonly from: "uncertainty"; readonly of: string }
  /** The function does without and knows it is missing. */
  | { readonly from: "nothing" };

export interface Gives {
  /** `like`: that of the parameter named; with `per`, divided by that of another (the slope of one by the other). */
  readonly dimension: Dimension | { readonly like: string; readonly per?: string };
  /** `like`: the scale of the parameter named; `spread`: its difference (a spread of points is a difference). */
  readonly scale: Scale | { readonly like: string } | { readonly spread: string };
  /** The unit to show when the note asks for none. */
  readonly unit?: string;
  /**
   * What of a samples argument's uncertainty the result takes over: the mean's (shared error and scatter),
   * only the error that all readings share, or none. Default none.
   */
  readonly carries?: "mean" | "shared" | "none";
}

/** Arguments in SI units by parameter name. Every quantity is a dual number differentiated by its own index. */
export interface Inputs {
  /** A quantity that is always there: given, or through a default. */
  quantity(name: string): Dual;
  /** A quantity that may be missing. */
  maybe(name: string): Dual | undefined;
  choice(name: string): string;
  samples(name: string): Samples;
  /** Whether the note itself gave it. */
  given(name: string): boolean;
  /** One past the last argument index, free for `implicit`. */
  readonly free: number;
}

export interface Samples {
  /** SI values in the order they were taken. */
  readonly values: readonly number[];
  /** The mean as a dual number differentiated by the argument's index. */
  readonly mean: Dual;
  /** Standard uncertainty that each reading has by itself (resolution), SI. */
  readonly resolution: number;
}

export type Outcome =
  | { readonly ok: true; readonly value: Dual; readonly scatter?: Scatter }
  /** A sentence a technician understands: why no value can be given, and what would. */
  | { readonly ok: false; readonly says: string };

/** An uncertainty that arises in the function itself, as the standard error of a fit. */
export interface Scatter {
  readonly standardUncertainty: number;
  readonly says: string;
}

export const value = (v: Dual, scatter?: Scatter): Outcome =>
  scatter ? { ok: true, value: v, scatter } : { ok: true, value: v };
export const refuse = (says: string): Outcome => ({ ok: false, says });
