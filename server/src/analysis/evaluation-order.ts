import type { Expression } from "../language/syntax.ts";
import { type Definition, namesIn, resolve, type Scope } from "./scope.ts";

/** Definitions in an order in which each comes after those it needs, and the circles that have no such order. */
export interface Order {
  readonly order: readonly Definition[];
  /** Each circle once, from its first line in the note round to it again. */
  readonly circles: readonly (readonly Definition[])[];
}

/** The order found last time, with what it rested on. */
export class OrderMemo {
  keys: readonly string[] = [];
  formulas: readonly (Expression | undefined)[] = [];
  /** Places of the definitions among the names of the note. */
  order: readonly number[] = [];
  circles: readonly (readonly number[])[] = [];
}

const formulaOf = ({ body }: Definition): Expression | undefined =>
  body.kind === "line" && body.syntax.kind === "formula" ? body.syntax.formula : undefined;

/**
 * The same as `evaluationOrder`, kept while the names and formulas stay what they were: typing a value changes
 * neither. `same` tells that the names, and so what each of them means, are those of last time.
 */
export function rememberedOrder(scope: Scope, memo: OrderMemo): Order & { readonly same: boolean } {
  const definitions = scope.repeated.length === 0 ? scope.all : [...scope.byKey.values()];
  const same =
    memo.keys.length === definitions.length && definitions.every(({ key }, i) => memo.keys[i] === key);
  if (same && definitions.every((definition, i) => memo.formulas[i] === formulaOf(definition))) {
    const found = (places: readonly number[]) => places.map((at) => definitions[at] as Definition);
    return { order: found(memo.order), circles: memo.circles.map(found), same };
  }
  const made = evaluationOrder(scope);
  const places = new Map(definitions.map((definition, at) => [definition, at]));
  const placesOf = (some: readonly Definition[]) => some.map((definition) => places.get(definition) ?? 0);
  if (!same) memo.keys = definitions.map(({ key }) => key);
  memo.formulas = definitions.map(formulaOf);
  memo.order = placesOf(made.order);
  memo.circles = made.circles.map(placesOf);
  return { ...made, same };
}

/** Depth-first without recursion: a chain of ten thousand names must not exhaust the stack. */
export function evaluationOrder(scope: Scope): Order {
  return orderAsWritten(scope) ?? orderByUse(scope);
}

/** Most notes define every name above its first use; then the order of the note will do. */
function orderAsWritten(scope: Scope): Order | undefined {
  const order: Definition[] = [];
  const seen = new Set<Definition>();
  for (const definition of scope.byKey.values()) {
    const formula = formulaOf(definition);
    if (formula) {
      for (const name of namesIn(formula)) {
        const target = resolve(scope, definition.block.label, name);
        if (target && !seen.has(target)) return undefined;
      }
    }
    seen.add(definition);
    order.push(definition);
  }
  return { order, circles: [] };
}

function orderByUse(scope: Scope): Order {
  const order: Definition[] = [];
  const circles: Definition[][] = [];
  const state = new Map<Definition, "open" | "done">();
  const uses = (definition: Definition): readonly Definition[] => {
    const formula = formulaOf(definition);
    if (!formula) return [];
    const found: Definition[] = [];
    for (const name of namesIn(formula)) {
      const target = resolve(scope, definition.block.label, name);
      if (target) found.push(target);
    }
    return found;
  };
  for (const root of scope.byKey.values()) {
    if (state.has(root)) continue;
    const stack: { definition: Definition; uses: readonly Definition[]; next: number }[] = [];
    const open = (definition: Definition) => {
      state.set(definition, "open");
      stack.push({ definition, uses: uses(definition), next: 0 });
    };
    open(root);
    for (let top = stack[stack.length - 1]; top; top = stack[stack.length - 1]) {
      const target = top.uses[top.next++];
      if (!target) {
        state.set(top.definition, "done");
        order.push(top.definition);
        stack.pop();
      } else if (!state.has(target)) {
        open(target);
      } else if (state.get(target) === "open") {
        const from = stack.findIndex((frame) => frame.definition === target);
        circles.push(stack.slice(from).map((frame) => frame.definition));
      }
    }
  }
  return { order, circles };
}
