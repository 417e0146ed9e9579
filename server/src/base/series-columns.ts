import type { Analysis } from "../analysis/analysis.ts";
import type { Result } from "../analysis/quantity.ts";
import { show } from "../analysis/showing.ts";
import { readFormula } from "../language/formula.ts";
import type { Expression } from "../language/syntax.ts";
import type { Base } from "./base.ts";
import type { ColumnFigure, ColumnRecord, NoteRecord, ValueRecord } from "./record.ts";

/**
 * Columns of a note's series as a record keeps them: not the rows, but what the formula language makes of them.
 * A condition asks for a figure as a formula in the note would, `spread(decay p)`, and by `first` and `last`
 * for the ends; the bare name is the mean, as in the note.
 */
const FUNCTIONS = ["mean", "spread", "least", "greatest"] as const;
const FIGURES: ReadonlySet<string> = new Set([...FUNCTIONS, "count", "first", "last", "slope"]);

/** What is kept of the series of a note. A first column beside others is what they go over, mostly the time. */
export function columnRecords(analysis: Analysis): ColumnRecord[] {
  const records: ColumnRecord[] = [];
  for (const block of analysis.note.blocks) {
    if (block.kind !== "series") continue;
    for (const { syntax, line } of block.lines) {
      if (syntax.kind !== "header") continue;
      const names = syntax.columns.map(({ name }) => `${block.label} ${name.text}`.trim());
      const [over] = names.length > 1 ? names : [];
      for (const name of names) {
        if (name === over) continue;
        const record = columnRecord(analysis, name, over, line + 1);
        if (record !== undefined) records.push(record);
      }
      break;
    }
  }
  return records;
}

function columnRecord(
  analysis: Analysis,
  name: string,
  over: string | undefined,
  line: number,
): ColumnRecord | undefined {
  const column = analysis.evaluate(formulaOf(name));
  if (column?.kind !== "quantity" || column.sampling === undefined) return undefined;
  const { values } = column.sampling;
  const figures: Record<string, ColumnFigure> = {};
  const put = (figure: string, result: Result): void => {
    const shown = result && show(result);
    if (shown?.kind !== "quantity" || shown.unit === "(SI)" || !Number.isFinite(shown.value)) return;
    figures[figure] = {
      value: shown.value,
      ...(shown.unit === "" ? {} : { unit: shown.unit }),
      ...(shown.uncertainty === null ? {} : { uncertainty: Number(shown.uncertainty.toPrecision(4)) }),
    };
  };
  for (const figure of FUNCTIONS) put(figure, analysis.evaluate(formulaOf(`${figure}(${name})`)));
  const end = (at: number): Result => {
    const si = values.at(at);
    return si === undefined ? undefined : { ...column, si, by: column.sampling?.shared ?? column.by };
  };
  put("first", end(0));
  put("last", end(-1));
  if (over !== undefined) put("slope", analysis.evaluate(formulaOf(`slope(${name}, ${over})`)));
  return { name, ...(over === undefined ? {} : { over }), count: values.length, figures, line };
}

const formulas = new Map<string, Expression>();
const MOST_FORMULAS = 2000;

/** Series of one shop have the same few columns, so each formula is read once. */
function formulaOf(text: string): Expression {
  const known = formulas.get(text);
  if (known !== undefined) return known;
  const { expression } = readFormula(text, 0, text.length, []);
  if (formulas.size >= MOST_FORMULAS) formulas.clear();
  formulas.set(text, expression);
  return expression;
}

const FIGURE_KEY = /^([a-z]+)\((.*?)(?:, (.*))?\)$/;

/** The figure of a column that a key asks for, `spread(decay p)` or the bare `decay p`, as a value of the note. */
export function columnValue({ columns }: NoteRecord, key: string): ValueRecord | undefined {
  if (columns === undefined) return undefined;
  const [, figure = "mean", name = key, over] = FIGURE_KEY.exec(key) ?? [];
  const column = columnCalled(name, columns);
  // Of `t` beside `T` the one that the rows go over is not kept, and the other one is no answer.
  if (column === undefined || (name !== column.name && name === column.over)) return undefined;
  if (over !== undefined && over.toLowerCase() !== column.over?.toLowerCase()) return undefined;
  const { line } = column;
  if (figure === "count") return { name: key, kind: "derived", value: column.count, line };
  const found = column.figures[figure];
  return found && { name: key, kind: "derived", ...found, line };
}

/** As in a note, case counts only between columns that nothing else tells apart. */
function columnCalled(name: string, columns: readonly ColumnRecord[]): ColumnRecord | undefined {
  const folded = name.toLowerCase();
  return columns.find((one) => one.name === name) ?? columns.find((one) => one.name.toLowerCase() === folded);
}

/** The formula with each figure of a series' column as a name of its own, so that it calculates like any value. */
export function withColumns(node: Expression, base: Base): Expression {
  switch (node.kind) {
    case "name": {
      const { key, text } = node.name;
      const figure = `mean(${text})`;
      if (base.hasValue(key) || base.named(figure) === undefined) return node;
      return { ...node, name: { ...node.name, key: figure } };
    }
    case "call": {
      const key = figureKey(node);
      if (key !== undefined && base.named(key) !== undefined) {
        const { span } = node;
        return { kind: "name", span, name: { span, text: key, key } };
      }
      return {
        ...node,
        args: node.args.map((argument) => ({ ...argument, value: withColumns(argument.value, base) })),
      };
    }
    case "binary":
      return { ...node, left: withColumns(node.left, base), right: withColumns(node.right, base) };
    case "negate":
    case "not":
      return { ...node, operand: withColumns(node.operand, base) };
    default:
      return node;
  }
}

function figureKey({ name, args }: Expression & { readonly kind: "call" }): string | undefined {
  if (!FIGURES.has(name.key) || args.length !== (name.key === "slope" ? 2 : 1)) return undefined;
  const names = args.map(({ value }) => (value.kind === "name" ? value.name.text : undefined));
  return names.includes(undefined) ? undefined : `${name.key}(${names.join(", ")})`;
}
