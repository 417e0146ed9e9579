import type { Range } from "../note/note.ts";
import type { YamlNode } from "../note/yaml-tree.ts";
import type { Dimension } from "../units/dimension.ts";
import { describeDimension } from "../units/dimension-name.ts";
import type { OwnUnits } from "../units/own-units.ts";
import { toSI, type Unit } from "../units/unit.ts";
import { readUnit } from "../units/unit-reader.ts";
import type { ShopProblem } from "./shop.ts";

/** A piece of the shop file's text and where it stands. */
export interface Piece {
  readonly text: string;
  readonly range: Range;
}

/** What a finding is beside its words; left out, it is an error in the form of the file. */
export type ProblemKind = Pick<ShopProblem, "rule" | "severity" | "why" | "within">;

/** What a reader of the shop file hands its findings to, with the shop's own units that its values may use. */
export interface Report {
  (range: Range, message: string, advice: string, kind?: ProblemKind): void;
  readonly units?: OwnUnits | undefined;
}

export const reportInto = (problems: ShopProblem[], units?: OwnUnits): Report =>
  Object.assign(
    (range: Range, message: string, advice: string, kind: ProblemKind = {}) => {
      problems.push({ range, message, advice, ...kind });
    },
    { units },
  );

/** The text of a value, or undefined where there is none or it is no single text. */
export function pieceOf(node: YamlNode | undefined): Piece | undefined {
  if (node?.kind !== "scalar" || node.value === null) return undefined;
  return { text: node.source, range: node.inner ?? node.range };
}

/** A part of a piece. In escaped and folded texts places do not map one to one, so the whole is pointed at. */
export function part(piece: Piece, from: number, to = piece.text.length): Piece {
  const text = piece.text.slice(from, to);
  const lead = text.length - text.trimStart().length;
  const trimmed = text.trim();
  if (piece.range.to - piece.range.from !== piece.text.length) return { text: trimmed, range: piece.range };
  const start = piece.range.from + from + lead;
  return { text: trimmed, range: { from: start, to: start + trimmed.length } };
}

export interface WrittenQuantity {
  readonly number: number;
  readonly unit: Unit;
  readonly at: Piece;
}

const NUMBER =
  /^[+\-−]?(?:[1-9]\d{0,2}(?:[ \u00a0\u202f]\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?(?![\d,.])/;

/** A number at the start of a piece, with what follows it. Reports what cannot be read. */
export function readNumber(piece: Piece, report: Report): { number: number; rest: Piece } | undefined {
  const match = NUMBER.exec(piece.text);
  if (!match) {
    if (/^[+-]?\d+,\d/.test(piece.text)) {
      report(
        piece.range,
        `\`${piece.text}\` has a decimal comma.`,
        "Write a decimal point, and no mark between thousands.",
      );
    } else {
      report(
        piece.range,
        `\`${piece.text}\` does not start with a number.`,
        "Write a number and its unit, such as 0.01 psi.",
      );
    }
    return undefined;
  }
  const number = Number(match[0].replace("−", "-").replace(/[ \u00a0\u202f]/g, ""));
  return { number, rest: part(piece, match[0].length) };
}

/**
 * A number with its unit. Reports what cannot be read.
 *
 * @param fallback the unit of a number that stands without one (`0` in `0 to 5 psi`)
 */
export function readQuantity(piece: Piece, report: Report, fallback?: Unit): WrittenQuantity | undefined {
  const read = readNumber(piece, report);
  if (!read) return undefined;
  const { number, rest } = read;
  if (rest.text === "") {
    if (fallback) return { number, unit: fallback, at: piece };
    report(piece.range, `\`${piece.text}\` has no unit.`, "Write the unit behind the number.");
    return undefined;
  }
  const unit = unitIn(rest, report);
  return unit && { number, unit, at: piece };
}

/** A unit as the notes write it. Reports what is none. */
export function unitIn(piece: Piece, report: Report): Unit | undefined {
  const unit = readUnit(piece.text, report.units);
  if (unit.ok) return unit.unit;
  const [near] = unit.nearest;
  const advice = near
    ? `Perhaps \`${near}\` is meant.`
    : "Write a unit as the notes do, such as psi, kPa, L/min or mA.";
  report(
    piece.range,
    `\`${piece.text}\` is no known unit.`,
    unit.remark ? `${advice} ${unit.remark}` : advice,
  );
  return undefined;
}

/** Whether a quantity is of the dimension asked for; reports it where not. */
export function fits(quantity: WrittenQuantity, wanted: Dimension, what: string, report: Report): boolean {
  if (quantity.unit.dimension === wanted) return true;
  const got = describeDimension(quantity.unit.dimension) ?? "something else";
  const need = describeDimension(wanted) ?? "another kind of quantity";
  report(
    quantity.at.range,
    `${what} needs ${need}; \`${quantity.at.text}\` is ${got}.`,
    "Correct the number's unit.",
  );
  return false;
}

/** The value on its scale, SI. */
export const asPoint = (q: WrittenQuantity): number => toSI(q.number, q.unit);
/** The value as a width, SI: for an error or a step of 0.5 degC the zero of the scale plays no part. */
export const asWidth = (q: WrittenQuantity): number => Math.abs(q.number * q.unit.factor);
