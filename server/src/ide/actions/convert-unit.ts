import type { Analysis, TextEdit } from "../../analysis/analysis.ts";
import { collectNames, keyUnder } from "../../analysis/scope.ts";
import { partsOf } from "../../language/parts-of.ts";
import type { NumberText, UnitText } from "../../language/syntax.ts";
import type { Range } from "../../note/note.ts";
import type { Shop } from "../../shop/shop.ts";
import { lineAt } from "../../text/line-index.ts";
import type { OwnUnits } from "../../units/own-units.ts";
import { fromSI, toSI, type Unit } from "../../units/unit.ts";
import { unitsOfDimension } from "../../units/unit-choice.ts";
import { readUnit } from "../../units/unit-reader.ts";
import { formulaOf, type LocatedLine, lineOf } from "../locate.ts";
import { at } from "../mentions.ts";
import { lineEndOf } from "./accept.ts";

export interface Conversion {
  readonly title: string;
  readonly edits: readonly TextEdit[];
}

/** Other units that are offered; the usual ones come first. */
const MOST = 5;
/** Digits of a converted number: more than any gauge has. */
const DIGITS = 7;

/**
 * Other units for what stands under the cursor. A result is shown in another unit, a number of a formula or
 * limit is converted. What was read stays as it was read, since its digits say how finely; it gets a line
 * below that shows it in the other unit.
 */
export function conversions(analysis: Analysis, shop: Shop, offset: number): readonly Conversion[] {
  const { units: own } = shop;
  const line = lineOf(analysis.note, offset);
  if (!line || line.placed.syntax.problems.length > 0) return [];
  const { syntax } = line.placed;
  const holds = (span: Range | undefined): boolean =>
    span !== undefined && line.placed.offset + span.from <= offset && offset <= line.placed.offset + span.to;

  if (syntax.kind === "measured") {
    if (syntax.value.kind !== "number" || !syntax.value.unit) return [];
    return holds(syntax.value.unit.span) ? otherLines(analysis, line, syntax.value.unit, own) : [];
  }
  if (syntax.kind === "formula" && (holds(syntax.displayUnit?.span) || holds(syntax.name.span))) {
    return shownOtherwise(analysis, line, own);
  }
  const formula = formulaOf(line);
  for (const node of formula ? partsOf(formula) : []) {
    if (node.kind === "number" && node.unit && holds(node.unit.span)) {
      return numbersIn(line.placed.offset, node.number, node.unit, own);
    }
  }
  return [];
}

/** Units that measure the same, on the same scale. */
function others(unit: Unit, own: OwnUnits | undefined): readonly Unit[] {
  const found: Unit[] = [];
  for (const spelling of [...(own?.ofDimension(unit.dimension) ?? []), ...unitsOfDimension(unit.dimension)]) {
    const reading = readUnit(spelling, own);
    if (!reading.ok || reading.unit.scale !== unit.scale || spelling === unit.spelling) continue;
    if (reading.unit.factor === unit.factor && reading.unit.offset === unit.offset) continue;
    found.push(reading.unit);
    if (found.length === MOST) break;
  }
  return found;
}

const othersOf = (spelling: string, own: OwnUnits | undefined): readonly Unit[] => {
  const reading = readUnit(spelling, own);
  return reading.ok ? others(reading.unit, own) : [];
};

function shownOtherwise(
  analysis: Analysis,
  { placed }: LocatedLine,
  own: OwnUnits | undefined,
): Conversion[] {
  const { syntax } = placed;
  if (syntax.kind !== "formula") return [];
  const value = analysis.values.find(({ lineRange }) => lineRange.from === placed.offset);
  const now = syntax.displayUnit?.text ?? (value?.shown?.kind === "quantity" ? value.shown.unit : "");
  const span = syntax.displayUnit?.span;
  const behindName = placed.offset + syntax.name.span.to;
  return othersOf(now, own).map(({ spelling }) => ({
    title: `Show it in ${spelling}`,
    edits: [
      span
        ? { range: at(placed.offset, span), text: spelling }
        : { range: { from: behindName, to: behindName }, text: ` [${spelling}]` },
    ],
  }));
}

function numbersIn(
  offset: number,
  number: NumberText,
  written: UnitText,
  own: OwnUnits | undefined,
): Conversion[] {
  const reading = readUnit(written.text, own);
  if (!reading.ok) return [];
  const si = toSI(number.value, reading.unit);
  return others(reading.unit, own).map((unit) => {
    const text = `${inUnit(si, unit)} ${unit.spelling}`;
    const range = at(offset, { from: number.span.from, to: written.span.to });
    return { title: `Write ${text}`, edits: [{ range, text }] };
  });
}

/** The value in a unit; on a scale with an offset, what is left of a sum of near equals is no digit. */
function inUnit(si: number, unit: Unit): number {
  const value = Number(fromSI(si, unit).toPrecision(DIGITS));
  return Math.abs(value) < Math.abs(si / unit.factor) * 10 ** -DIGITS ? 0 : value;
}

function otherLines(
  { note }: Analysis,
  line: LocatedLine,
  written: UnitText,
  own: OwnUnits | undefined,
): Conversion[] {
  const { placed, block } = line;
  if (placed.syntax.kind !== "measured") return [];
  const name = placed.syntax.name.text;
  const { byKey } = collectNames(note);
  const end = placed.offset + placed.length;
  const marks = note.text.slice(note.lines.starts[lineAt(note.lines, placed.offset)], placed.offset);
  return othersOf(written.text, own).flatMap(({ spelling }) => {
    const also = /^\p{L}+$/u.test(spelling) ? `${name} in ${spelling}` : `${name} converted`;
    if (byKey.has(keyUnder(block.label, also.toLowerCase()))) return [];
    const text = `${lineEndOf(note)}${marks}${also} [${spelling}] = ${name}`;
    return { title: `Also show it in ${spelling}`, edits: [{ range: { from: end, to: end }, text }] };
  });
}
