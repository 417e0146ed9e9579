import * as z from "zod/mini";
import { readFormula as readTree } from "../language/formula.ts";
import { readName } from "../language/scanner.ts";
import type { Expression, LineProblem } from "../language/syntax.ts";
import type { Range } from "../note/note.ts";
import type { YamlEntry } from "../note/yaml-tree.ts";
import type { Parameter } from "../physics/function.ts";
import { findFunction } from "../physics/registry.ts";
import { PLAIN_NUMBER } from "../units/unit-choice.ts";
import { readBounds } from "./bounds.ts";
import { type Piece, part, type Report, unitIn } from "./piece.ts";
import { readParameters } from "./read-parameter.ts";
import { checkForm, entryRange, optionalText, textAt, textsAt, valueAt } from "./section.ts";
import type { Bounds, ShopFormula } from "./shop.ts";

const text = z.string().check(z.minLength(1));
const formulaSchema = z.strictObject({
  says: z.optional(text),
  takes: z.optional(z.unknown()),
  formula: text,
  unit: text,
  range: z.optional(text),
  holds: z.optional(text),
  assumes: z.optional(z.union([text, z.array(text)])),
  source: z.optional(text),
  caution: z.optional(text),
});

/** A formula as far as it can be read by itself, with the text that its spans count in. */
export interface FormulaRead {
  readonly formula: ShopFormula;
  readonly written: Piece;
  /** Where its unit stands. */
  readonly unitAt: Range;
}

const LONGEST_FORMULA = 2000;
/** Names that `find` gives another meaning before a bracket. */
const ASKED_BY_FIND: ReadonlySet<string> = new Set([
  "done",
  "planned",
  "outcome of",
  "finding",
  "accepted",
  "has",
  "says",
  "duration",
]);

/** Reads one formula of the shop's own; undefined where it cannot serve, with the reason reported. */
export function readFormula(entry: YamlEntry, report: Report): FormulaRead | undefined {
  const name = entry.key.trim().replace(/\s+/g, " ").toLowerCase();
  if (!isFree(name, entry, report)) return undefined;
  const what = `the formula \`${name}\``;
  const map = checkForm(entry.value, formulaSchema, what, entry.keyRange, report);
  const written = map && textAt(map, "formula");
  const unitText = map && textAt(map, "unit");
  if (!map || !written || !unitText) return undefined;
  const taken = valueAt(map, "takes");
  const parameters = readParameters(taken, name, report);
  const unit = unitText.text === "1" ? PLAIN_NUMBER : unitIn(unitText, report);
  const tree = readWritten(written, report);
  if (!parameters || !unit || !tree) return undefined;

  const rangeText = textAt(map, "range");
  const resultWithin = rangeText && readBounds(rangeText, unit, "The range of the result", report);
  const within = new Map<string, Bounds>();
  for (const { name: key, bounds } of parameters) if (bounds) within.set(key, bounds);
  const formula: ShopFormula = {
    name,
    says: textAt(map, "says")?.text ?? `A formula of the shop's own, in ${unit.spelling || "plain numbers"}.`,
    parameters: parameters.map(({ bounds: _, at: __, ...parameter }): Parameter => parameter),
    gives: { dimension: unit.dimension, scale: unit.scale, unit: unit.spelling },
    equation: written.text,
    assumes: textsAt(map, "assumes", false).map((one) => one.text),
    validity: validityOf(textAt(map, "holds")?.text, within, resultWithin),
    source: textAt(map, "source")?.text ?? "",
    ...optionalText(map, "caution"),
    examples: [],
    formula: tree,
    unit,
    within,
    ...(resultWithin ? { resultWithin } : {}),
    range: entryRange(entry),
  };
  if (formula.source === "") {
    report(
      entry.keyRange,
      `\`${name}\` names no source.`,
      "Say in `source:` where it is from: a data sheet, a handbook, or whoever in the shop worked it out, and when.",
      { severity: "info", why: "Without its source nobody can tell later whether the formula holds." },
    );
  }
  return { formula, written, unitAt: unitText.range };
}

function isFree(name: string, { keyRange }: YamlEntry, report: Report): boolean {
  const read = readName(name, 0, true);
  if (read?.span.to !== name.length) {
    report(
      keyRange,
      `\`${name}\` cannot be the name of a formula: a note could not call it.`,
      "Write words with single blanks, the first starting with a letter, and without `and`, `or`, `not`, `is`.",
    );
    return false;
  }
  if (findFunction(name)) {
    report(
      keyRange,
      `\`${name}\` is a built-in function, and a shop file cannot change what it works out.`,
      "Give the formula another name.",
    );
    return false;
  }
  if (ASKED_BY_FIND.has(name)) {
    report(keyRange, `\`${name}\` is a question that \`find\` asks.`, "Give the formula another name.");
    return false;
  }
  return true;
}

/** The formula's tree; undefined where a part of it cannot be read. */
function readWritten(written: Piece, report: Report): Expression | undefined {
  const { text: formula } = written;
  const at = ({ from, to }: LineProblem["span"]): Range => part(written, from, to).range;
  if (formula.length > LONGEST_FORMULA) {
    report(written.range, "This formula is longer than any that is read.", "Divide it into several.");
    return undefined;
  }
  const problems: LineProblem[] = [];
  const { expression, end } = readTree(formula, 0, formula.length, problems);
  const [problem] = problems;
  if (problem) {
    // Between curly brackets YAML takes a comma for the end of the value.
    const cut = /bracket is never closed/.test(problem.message)
      ? " If the formula goes on behind a comma, put all of it in quotes."
      : "";
    report(at(problem.span), problem.message, problem.advice + cut, { rule: problem.rule });
    return undefined;
  }
  if (formula.slice(end).trim() !== "") {
    const rest = { from: end, to: formula.length };
    report(
      at(rest),
      `The formula cannot be read from \`${formula.slice(end).trim()}\` on.`,
      "Write it as a note would behind its `=`.",
      { rule: "note/syntax" },
    );
    return undefined;
  }
  return expression;
}

function validityOf(
  holds: string | undefined,
  within: ReadonlyMap<string, Bounds>,
  result: Bounds | undefined,
): string {
  const parts = [...within].map(([name, { says }]) => `${name} ${says}`);
  if (result) parts.push(`result ${result.says}`);
  return [...(holds ? [holds] : []), ...(parts.length > 0 ? [parts.join("; ")] : [])].join(" ");
}
