/**
 * Calls a formula function in SI units, as the evaluator would, without the evaluator: for checks of the
 * physics alone.
 */
import { type Dual, variable } from "../../server/src/physics/dual.ts";
import type { FormulaFunction, Inputs, Parameter, Samples } from "../../server/src/physics/function.ts";
import { findFunction } from "../../server/src/physics/registry.ts";
import { fromSI, readUnit, toSI } from "../../server/src/units/index.ts";

export type Argument = number | string | readonly number[];
export type Arguments = Readonly<Record<string, Argument>>;

export const AMBIENT = 101325;

/** The value in SI units; points on a temperature scale in kelvin. */
export function inSI(value: number, unit: string): number {
  const reading = readUnit(unit);
  if (!reading.ok) throw new Error(`unit ${unit} is not known`);
  return toSI(value, reading.unit);
}

/** An SI value in this unit. */
export function inUnit(value: number, unit: string): number {
  const reading = readUnit(unit);
  if (!reading.ok) throw new Error(`unit ${unit} is not known`);
  return fromSI(value, reading.unit);
}

export function functionNamed(name: string): FormulaFunction {
  const found = findFunction(name);
  if (!found) throw new Error(`no function ${name}`);
  return found;
}

const average = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

function startingValue(parameter: Parameter): number | string | undefined {
  const optional = parameter.optional;
  if (!optional) throw new Error(`argument ${parameter.name} is missing`);
  if ("choice" in optional) return optional.choice;
  if ("from" in optional) return optional.from === "ambient pressure" ? AMBIENT : undefined;
  return inSI(optional.value, optional.unit);
}

/** Inputs for these arguments, the quantities differentiated by the place of their parameter. */
export function inputsOf(entry: FormulaFunction, args: Arguments, resolution = 0): Inputs {
  for (const name of Object.keys(args))
    if (!entry.parameters.some((p) => p.name === name)) throw new Error(`${entry.name} has no ${name}`);
  const quantities = new Map<string, Dual>();
  const texts = new Map<string, string>();
  const lists = new Map<string, Samples>();
  entry.parameters.forEach((parameter, index) => {
    const given = args[parameter.name] ?? startingValue(parameter);
    if (given === undefined) return;
    if (typeof given === "string") texts.set(parameter.name, given);
    else if (typeof given === "number") quantities.set(parameter.name, variable(given, index));
    else
      lists.set(parameter.name, {
        values: given,
        mean: variable(given.length > 0 ? average(given) : 0, index),
        resolution,
      });
  });
  const must = <T>(map: ReadonlyMap<string, T>, name: string): T => {
    const found = map.get(name);
    if (found === undefined) throw new Error(`${entry.name} asks for ${name}, which is not there`);
    return found;
  };
  return {
    quantity: (name) => must(quantities, name),
    maybe: (name) => quantities.get(name),
    choice: (name) => must(texts, name),
    samples: (name) => must(lists, name),
    given: (name) => args[name] !== undefined,
    free: entry.parameters.length,
  };
}

/** The outcome in SI units. */
export const outcome = (name: string, args: Arguments, resolution = 0) => {
  const entry = functionNamed(name);
  return entry.compute(inputsOf(entry, args, resolution));
};

/** The value in SI units; fails the test when the function refuses. */
export function call(name: string, args: Arguments): number {
  const result = outcome(name, args);
  if (!result.ok) throw new Error(`${name}: ${result.says}`);
  return result.value.v;
}

/** The sentence with which the function refuses. */
export function refusal(name: string, args: Arguments): string {
  const result = outcome(name, args);
  if (result.ok) throw new Error(`${name} gave ${result.value.v} and should have refused`);
  return result.says;
}

/** The sentences about being outside the range where the function holds. */
export function outside(name: string, args: Arguments): readonly string[] {
  const entry = functionNamed(name);
  const inputs = inputsOf(entry, args);
  return entry.outside?.(inputs, call(name, args)) ?? [];
}

export function remarks(name: string, args: Arguments): readonly string[] {
  const entry = functionNamed(name);
  return entry.remarks?.(inputsOf(entry, args)) ?? [];
}
