import { partsOf } from "../language/parts-of.ts";
import type { Expression, Span } from "../language/syntax.ts";
import type { YamlEntry } from "../note/yaml-tree.ts";
import { findFunction, formulaFunctions } from "../physics/registry.ts";
import { nearest } from "../text/nearest.ts";
import { part, type Report } from "./piece.ts";
import { type FormulaRead, readFormula } from "./read-formula.ts";
import type { Shop, ShopFormula } from "./shop.ts";

type Call = Extract<Expression, { kind: "call" }>;

/** What came of trying a formula with values of the kinds that it takes. */
export type Tried =
  | { readonly kind: "good" }
  | {
      readonly kind: "mistake";
      readonly rule: string;
      readonly at: Span | "unit";
      readonly message: string;
      readonly advice: string;
    }
  /** Whatever was tried lay where the formula has no value, so nothing was learnt. */
  | { readonly kind: "no value" };

/** What formulas of the shop's own may ask of its file. */
export type FormulaShop = Pick<Shop, "units" | "formulas" | "materials" | "altitude">;

/** Handed in, since working formulas out comes after reading them. */
export type TryFormula = (formula: ShopFormula, shop: FormulaShop) => Tried;

const MOST_FORMULAS = 200;
/** Parts of formulas that one call may work out, those of the formulas it calls counted each time. */
const MOST_PARTS = 500;

/**
 * Reads the section `formulas`: each by itself, then what they call, then each is tried with values of the
 * kinds it takes, so that a mistake with units shows here and not in the first note that calls it. A formula
 * with a mistake is kept by its name alone, for notes to be told so.
 */
export function readFormulas(
  entries: readonly (readonly [name: string, entry: YamlEntry])[],
  shop: Omit<FormulaShop, "formulas">,
  tryFormula: TryFormula,
  report: Report,
): Map<string, ShopFormula | undefined> {
  const formulas = new Map<string, ShopFormula | undefined>();
  const read = new Map<string, FormulaRead>();
  const tooMany = entries[MOST_FORMULAS];
  if (tooMany) {
    const advice = `Keep the formulas that notes use; more than ${MOST_FORMULAS} are not read.`;
    report(tooMany[1].keyRange, "From here on there are more formulas than are read.", advice);
  }
  for (const [name, entry] of entries.slice(0, MOST_FORMULAS)) {
    // A formula that would take the place of a built-in function is none at all.
    if (findFunction(name)) {
      readFormula(entry, report);
      continue;
    }
    formulas.set(name, undefined);
    const one = readFormula(entry, report);
    if (one) read.set(name, one);
  }
  for (const one of inOrder(read, formulas, report)) {
    const { formula } = one;
    const good =
      namesAreKnown(one, formulas, report) &&
      isWithoutMistake(one, tryFormula(one.formula, { ...shop, formulas }), report);
    if (good) formulas.set(formula.name, formula);
  }
  return formulas;
}

// ---- What calls what ------------------------------------------------------------------------------

const callsOf = ({ formula }: ShopFormula): Call[] =>
  [...partsOf(formula)].filter((node): node is Call => node.kind === "call");

/** Each formula after those that it calls; circles and what works out too much are reported and left out. */
function inOrder(
  read: ReadonlyMap<string, FormulaRead>,
  known: ReadonlyMap<string, unknown>,
  report: Report,
): readonly FormulaRead[] {
  const order: FormulaRead[] = [];
  const parts = new Map<string, number>();
  const open: string[] = [];
  const bad = new Set<string>();
  const visit = (name: string): void => {
    const one = read.get(name);
    if (!one || parts.has(name)) return;
    const started = open.indexOf(name);
    if (started >= 0) {
      const circle = open.slice(started);
      const first = [...read.keys()].find((key) => circle.includes(key)) ?? name;
      const way = [...circle, name].map((key) => `\`${key}\``).join(" → ");
      if (!circle.some((key) => bad.has(key))) {
        report(
          read.get(first)?.written.range ?? one.written.range,
          circle.length === 1
            ? `\`${name}\` calls itself.`
            : `These formulas call each other in a circle: ${way}.`,
          "Write one of them without the other.",
          { rule: "reading/circular" },
        );
      }
      for (const key of circle) bad.add(key);
      return;
    }
    open.push(name);
    const called = callsOf(one.formula).map((call) => call.name.key);
    for (const key of called) visit(key);
    open.pop();
    const own = [...partsOf(one.formula.formula)].length;
    const total = called.reduce((sum, key) => sum + (parts.get(key) ?? 0), own);
    parts.set(name, total);
    if (total > MOST_PARTS && !bad.has(name)) {
      bad.add(name);
      if (!called.some((key) => bad.has(key))) {
        report(
          one.written.range,
          `\`${name}\` works out too much: with all that it calls it has more than ${MOST_PARTS} parts.`,
          "Let notes work out parts of it under names of their own.",
        );
      }
    }
    // What calls a formula with a mistake has no value either; one finding is enough.
    if (called.some((key) => bad.has(key) || (known.has(key) && !read.has(key)))) bad.add(name);
    if (!bad.has(name)) order.push(one);
  };
  for (const name of read.keys()) visit(name);
  return order;
}

/** Whether every name in the formula is one that it takes and every function one that there is. */
function namesAreKnown(
  { formula, written }: FormulaRead,
  formulas: ReadonlyMap<string, ShopFormula | undefined>,
  report: Report,
): boolean {
  const taken = new Set(formula.parameters.map(({ name }) => name));
  const used = new Set<string>();
  const words = new Set<Expression>();
  for (const node of partsOf(formula.formula)) {
    if (node.kind === "call") {
      const { key, text, span } = node.name;
      for (const word of wordsIn(node)) words.add(word);
      if (findFunction(key) || formulas.get(key)) continue;
      // The finding on that formula is enough.
      if (formulas.has(key)) return false;
      const [near] = nearest(key, [...formulas.keys(), ...formulaFunctions.map(({ name }) => name)], 1);
      report(
        part(written, span.from, span.to).range,
        `No function is called \`${text}\`.`,
        near
          ? `Perhaps \`${near}\` is meant.`
          : "Write a built-in function or another formula of this file, or put `*` before the bracket.",
        { rule: "reading/undefined" },
      );
      return false;
    }
    if (node.kind !== "name") continue;
    const { key, text, span } = node.name;
    used.add(key);
    if (taken.has(key) || words.has(node)) continue;
    const [near] = nearest(key, taken, 1);
    report(
      part(written, span.from, span.to).range,
      `\`${text}\` is nothing that this formula takes.`,
      near
        ? `Perhaps \`${near}\` is meant.`
        : `Add it under \`takes:\` with its unit, since a formula of the shop file sees no readings of a note.`,
      { rule: "reading/undefined" },
    );
    return false;
  }
  const unused = formula.parameters.find(({ name }) => !used.has(name));
  if (unused) {
    report(
      written.range,
      `The formula takes \`${unused.name}\` and does nothing with it.`,
      "Use it in the formula, or take it off the list.",
      {
        severity: "warning",
        why: "Whoever gives the value believes that it counts.",
      },
    );
  }
  return true;
}

/** Arguments that are words and no values: `gas: nitrogen`, or the name of a material. */
function* wordsIn(call: Call): Iterable<Expression> {
  const parameters = findFunction(call.name.key)?.parameters ?? [];
  let position = 0;
  for (const { label, value } of call.args) {
    const parameter = label ? parameters.find(({ name }) => name === label.key) : parameters[position++];
    const kind = parameter?.takes.kind;
    if (value.kind === "name" && (kind === "choice" || kind === "material")) yield value;
  }
}

function isWithoutMistake({ written, unitAt }: FormulaRead, tried: Tried, report: Report): boolean {
  switch (tried.kind) {
    case "good":
      return true;
    case "mistake": {
      const { rule, message, advice, at } = tried;
      report(at === "unit" ? unitAt : part(written, at.from, at.to).range, message, advice, { rule });
      return false;
    }
    case "no value":
      report(
        written.range,
        "For none of the values tried did this formula have a value, so its units could not be checked.",
        "Give the values that it takes a `range:` in which it holds.",
        {
          rule: "reading/out-of-validity",
          severity: "warning",
          why: "A mistake with units would show only in a note.",
        },
      );
      return true;
  }
}
