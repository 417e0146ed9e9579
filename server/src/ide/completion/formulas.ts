import type { NamedValue } from "../../analysis/analysis.ts";
import { signature } from "../../analysis/call-matching.ts";
import type { FunctionEntry, Parameter } from "../../physics/function.ts";
import { formulaFunctions } from "../../physics/registry.ts";
import type { Shop } from "../../shop/shop.ts";
import { parameterSays } from "../cards.ts";
import { functionNamed, valueOfKey } from "../look-up.ts";
import { type FormulaPlace, formulaPlace, type OpenCall } from "./formula-place.ts";
import { type Completion, type LinePlace, typedFrom } from "./place.ts";
import { type Fitting, fittingOf, unitCompletions } from "./units.ts";

/** Completions inside a formula that starts at a column. `own` is the name that the line defines. */
export function completeFormula(place: LinePlace, from: number, own: string | undefined): Completion[] {
  const formula = formulaPlace(place.before, from);
  if (formula.at === "unit") {
    return unitCompletions(typedFrom(place, formula.from), wanted(place, formula), place.shop.units);
  }
  if (formula.at !== "value") return [];
  return valueCompletions(place, formula, own);
}

export const isAfterValue = (place: LinePlace, from: number): boolean =>
  formulaPlace(place.before, from).at === "operator";

/** What the value at the cursor has to be, as far as its surroundings say. */
function wanted(place: LinePlace, formula: FormulaPlace): Fitting | undefined {
  const beside = formula.beside ? valueOfKey(place.analysis, formula.beside)?.shown : undefined;
  if (beside?.kind === "quantity") return fittingOf(beside.unit, place.shop.units);
  if (!formula.first || !formula.call) return undefined;
  const takes = parameterAt(formula.call, place.shop)?.takes;
  if (!takes || takes.kind === "choice" || takes.kind === "material" || takes.dimension === "any")
    return undefined;
  const scale = takes.kind === "quantity" && takes.scale !== "any" ? { scale: takes.scale } : {};
  return { dimension: takes.dimension, ...scale };
}

function parameterAt(call: OpenCall, shop: Shop): Parameter | undefined {
  const parameters = functionNamed(call.name, shop)?.parameters ?? [];
  return call.label ? parameters.find((p) => p.name === call.label) : parameters[call.index];
}

function valueCompletions(place: LinePlace, formula: FormulaPlace, own: string | undefined): Completion[] {
  const replaces = typedFrom(place, formula.from);
  const found: Completion[] = [];
  const parameter = formula.call && formula.first ? parameterAt(formula.call, place.shop) : undefined;
  if (parameter?.takes.kind === "choice") {
    for (const choice of parameter.takes.of) {
      found.push({ label: choice, kind: "value", text: choice, replaces, detail: parameter.name });
    }
  }
  const fitting = wanted(place, formula);
  const values = place.analysis.values.filter((value) => value.key !== own);
  const fits = (value: NamedValue): boolean =>
    value.shown?.kind === "quantity" &&
    fittingOf(value.shown.unit, place.shop.units)?.dimension === fitting?.dimension;
  const ordered = fitting ? [...values.filter(fits), ...values.filter((value) => !fits(value))] : values;
  const seen = new Set<string>();
  for (const value of ordered) {
    if (seen.has(value.key)) continue;
    seen.add(value.key);
    found.push(readingCompletion(place, value, replaces));
  }
  if (formula.call && formula.first && !formula.call.label)
    found.push(...labels(formula.call, place.shop, replaces));
  for (const entry of place.shop.formulas.values())
    if (entry) found.push(functionCompletion(entry, replaces));
  for (const entry of formulaFunctions) found.push(functionCompletion(entry, replaces));
  return found;
}

function readingCompletion(
  place: LinePlace,
  value: NamedValue,
  replaces: Completion["replaces"],
): Completion {
  const { block } = place.line;
  const near = block.range.from <= value.lineRange.from && value.lineRange.to <= block.range.to;
  const whole = value.key === value.name.toLowerCase();
  const text = near || whole ? value.name : value.key;
  return {
    label: text,
    kind: "reading",
    text,
    replaces,
    ...(value.shown ? { detail: value.shown.text } : {}),
  };
}

function labels(call: OpenCall, shop: Shop, replaces: Completion["replaces"]): Completion[] {
  const parameters = functionNamed(call.name, shop)?.parameters ?? [];
  return parameters
    .filter((p, i) => i >= call.index && !call.labels.includes(p.name))
    .map((p) => ({
      label: `${p.name}:`,
      kind: "argument" as const,
      text: `${p.name}: `,
      replaces,
      detail: parameterSays(p),
    }));
}

function functionCompletion(entry: FunctionEntry, replaces: Completion["replaces"]): Completion {
  return {
    label: entry.name,
    kind: "function",
    text: `${entry.name}(`,
    replaces,
    detail: signature(entry),
    about: entry.name,
  };
}
