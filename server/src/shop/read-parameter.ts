import * as z from "zod/mini";
import { TRUTH_WORDS } from "../../../grammar/line-language.ts";
import { readMeasured } from "../language/measured-value.ts";
import { readName } from "../language/scanner.ts";
import type { Range } from "../note/note.ts";
import type { YamlEntry, YamlNode } from "../note/yaml-tree.ts";
import type { Optional, Parameter } from "../physics/function.ts";
import { NONE, PRESSURE } from "../units/dimension.ts";
import type { Unit } from "../units/unit.ts";
import { PLAIN_NUMBER } from "../units/unit-choice.ts";
import { readBounds } from "./bounds.ts";
import { fits, type Piece, part, pieceOf, type Report, unitIn } from "./piece.ts";
import { checkForm, textAt } from "./section.ts";
import type { Bounds } from "./shop.ts";

const text = z.string().check(z.minLength(1));
const parameterSchema = z.strictObject({
  unit: text,
  says: z.optional(text),
  default: z.optional(text),
  range: z.optional(text),
});

/** A value that a formula takes, with the range in which the formula holds. */
export interface ParameterRead extends Parameter {
  readonly bounds?: Bounds;
  readonly at: Range;
}

const MOST_PARAMETERS = 24;

/**
 * What a formula takes, in the order in which a note gives it. Undefined where one of them cannot be read,
 * since the others would then stand in the wrong places.
 */
export function readParameters(
  node: YamlNode | undefined,
  formula: string,
  report: Report,
): readonly ParameterRead[] | undefined {
  // A formula that takes nothing is a constant with a name.
  if (!node) return [];
  if (node.kind !== "map") {
    report(
      node.range,
      "`takes` takes names, each with its unit.",
      "Below `takes:`, write a line for each value, as in `speed: km/h`.",
    );
    return undefined;
  }
  if (node.entries.length > MOST_PARAMETERS) {
    report(node.range, `A formula takes at most ${MOST_PARAMETERS} values.`, "Divide it into several.");
    return undefined;
  }
  const read: ParameterRead[] = [];
  let failed = false;
  for (const entry of node.entries) {
    const one = readParameter(entry, read, formula, report);
    if (one) read.push(one);
    else failed = true;
  }
  if (failed) return undefined;
  const late = read.find((one, i) => !one.optional && read.slice(0, i).some((before) => before.optional));
  if (late) {
    report(
      late.at,
      `\`${late.name}\` must be given, and stands behind a value that may be left out.`,
      "Put the values that have a `default:` last.",
    );
    return undefined;
  }
  return read;
}

function readParameter(
  entry: YamlEntry,
  before: readonly ParameterRead[],
  formula: string,
  report: Report,
): ParameterRead | undefined {
  const name = entry.key.trim().replace(/\s+/g, " ").toLowerCase();
  const { keyRange } = entry;
  if (readName(name, 0, true)?.span.to !== name.length || Object.hasOwn(TRUTH_WORDS, name)) {
    report(
      keyRange,
      `\`${entry.key}\` cannot stand for a value in a formula.`,
      "Write words with single blanks, the first starting with a letter, and without `and`, `or`, `not`, `is`.",
    );
    return undefined;
  }
  if (before.some((other) => other.name === name)) {
    report(keyRange, `\`${name}\` is there already; capitals make no difference.`, "Give one another name.");
    return undefined;
  }
  const what = `\`${name}\` of the formula \`${formula}\``;
  const { value } = entry;
  const map = value.kind === "map" ? checkForm(value, parameterSchema, what, keyRange, report) : undefined;
  const unitText: Piece | undefined = map ? textAt(map, "unit") : pieceOf(value);
  if (!unitText) {
    if (!map) {
      report(keyRange, `The unit of ${what} is missing.`, "Write it behind the colon; 1 is a plain number.");
    }
    return undefined;
  }
  const unit = unitText.text === "1" ? PLAIN_NUMBER : unitIn(unitText, report);
  if (!unit) return undefined;
  const rangeText = map && textAt(map, "range");
  const bounds = rangeText && readBounds(rangeText, unit, `The range of ${what}`, report);
  const defaultText = map && textAt(map, "default");
  const optional = defaultText && readDefault(defaultText, unit, name, formula, report);
  if (defaultText && !optional) return undefined;
  return {
    name,
    says: (map && textAt(map, "says")?.text) ?? (unit.spelling === "" ? "a plain number" : unit.spelling),
    takes: { kind: "quantity", dimension: unit.dimension, scale: unit.scale, unit: unit.spelling },
    ...(optional ? { optional } : {}),
    ...(bounds ? { bounds } : {}),
    at: keyRange,
  };
}

/** `0.5 m ± 0.01 m`, or the note's ambient pressure: what stands in for a value that is not given. */
function readDefault(
  piece: Piece,
  unit: Unit,
  name: string,
  formula: string,
  report: Report,
): Optional | undefined {
  if (piece.text.toLowerCase() === "ambient pressure") {
    if (unit.dimension === PRESSURE && unit.scale === "absolute") return { from: "ambient pressure" };
    report(
      piece.range,
      "The ambient pressure is an absolute pressure.",
      "Give this value a unit such as kPa(a).",
    );
    return undefined;
  }
  const { value, tolerance, instrument, at, problems } = readMeasured(piece.text, 0, piece.text.length);
  const [problem] = problems;
  if (problem) {
    const { from, to } = problem.span;
    report(part(piece, from, to).range, problem.message, problem.advice, { rule: problem.rule });
    return undefined;
  }
  const [number, second] = value?.kind === "number" ? value.numbers : [];
  if (value?.kind !== "number" || !number || second || instrument || at) {
    report(
      piece.range,
      `\`${piece.text}\` cannot stand in for a value.`,
      "Write one number with its unit, and how far it may be off: 0.5 m ± 0.01 m.",
    );
    return undefined;
  }
  const at0 = value.unit ? part(piece, value.unit.span.from, value.unit.span.to) : undefined;
  const own = at0 ? unitIn(at0, report) : unit;
  if (!own) return undefined;
  if (!fits({ number: number.value, unit: own, at: piece }, unit.dimension, `\`${name}\``, report))
    return undefined;
  if (own.scale !== unit.scale && own.scale !== "kelvin") {
    report(
      piece.range,
      `\`${piece.text}\` and the unit of \`${name}\` are not counted from the same zero.`,
      "Write both alike: gauge or absolute pressure, temperature or difference.",
    );
    return undefined;
  }
  const spread = tolerance ? halfWidth(piece, tolerance, number.value, own, report) : 0;
  if (spread === undefined) return undefined;
  const says = `${name} ${piece.text}, as the shop's \`${formula}\` has it`;
  return { value: number.value, unit: own.spelling, tolerance: spread, says };
}

type Tolerance = NonNullable<ReturnType<typeof readMeasured>["tolerance"]>;

/** Half-width of a `±` in the unit of its value. */
function halfWidth(
  piece: Piece,
  { number, unit: written }: Tolerance,
  value: number,
  unit: Unit,
  report: Report,
): number | undefined {
  if (!written) return number.value;
  const at = part(piece, written.span.from, written.span.to);
  const own = unitIn(at, report);
  if (!own) return undefined;
  if (own.dimension === NONE && (unit.dimension !== NONE || (unit.factor === 1 && own.factor !== 1))) {
    if (unit.scale !== "point") return number.value * own.factor * Math.abs(value);
    const advice = "Write the tolerance in kelvin, as in `± 0.5 K`.";
    report(at.range, `A percentage of a temperature in ${unit.spelling} depends on its zero.`, advice);
    return undefined;
  }
  if (!fits({ number: number.value, unit: own, at }, unit.dimension, "The `±`", report)) return undefined;
  return (number.value * Math.abs(own.factor)) / Math.abs(unit.factor);
}
