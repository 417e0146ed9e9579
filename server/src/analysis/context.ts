import type { Expression, Name } from "../language/syntax.ts";
import type { FunctionEntry } from "../physics/function.ts";
import type { Material, ShopFormula } from "../shop/shop.ts";
import type { OwnUnits } from "../units/own-units.ts";
import type { Problem } from "./problem.ts";
import type { Quantity, Result, Source, Value } from "./quantity.ts";

/** What an expression may ask of the note around it. */
export interface Context {
  /** The value of a name; `missing` when nothing defines it. */
  lookup(name: Name): Result | "missing";
  /** Names near an unknown one, best first. */
  nearestNames(key: string): readonly string[];
  report(problem: Problem): undefined;
  /** Ambient pressure: the note's own, else from the shop's altitude, else the standard atmosphere. */
  ambient(): { readonly quantity: Quantity; readonly says: string | undefined };
  /** A material of the shop file by its name in lower case, and the names of all. */
  material(key: string): Material | undefined;
  materialNames(): readonly string[];
  /** Units of the shop's own, where it has any. */
  readonly units: OwnUnits | undefined;
  /** Formulas of the shop's own by name in lower case; undefined stands for one with a mistake. */
  readonly formulas: ReadonlyMap<string, ShopFormula | undefined>;
  /** The source behind a default that a function rests on, the same object each time. */
  assumed(says: string, standard: number): Source;
  /** While uncertainty is simulated: what this trial draws instead of best values. */
  readonly trial?: Trial;
  /** Told of every function that was worked out, for the working behind a value. */
  called?(entry: FunctionEntry, remarks: readonly string[], assumptions: readonly string[]): void;
}

export interface Trial {
  /** How far the source is off in this trial, in SI units of what it belongs to. */
  draw(source: Source): number;
  /** The same for an uncertainty that arises in a function itself, told apart by where the call stands. */
  drawOwn(at: number, standard: number): number;
}

/** Evaluates an expression; handed to what is evaluated inside it. */
export type Evaluate = (expression: Expression, context: Context) => Result;

export const describe = (value: Value): string =>
  value.kind === "quantity"
    ? "a number"
    : value.kind === "text"
      ? `the words “${value.text}”`
      : value.value
        ? "yes"
        : "no";
