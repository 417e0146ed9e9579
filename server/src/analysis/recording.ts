import type { FormulaLine, Recorded } from "../language/syntax.ts";
import type { Note, Placed } from "../note/note.ts";
import { type OwnUnits, readUnit } from "../units/index.ts";
import { fromSI, type Unit } from "../units/unit.ts";
import type { TextEdit } from "./analysis.ts";
import { showable } from "./display-unit.ts";
import type { Evaluated, Evaluation } from "./evaluation.ts";
import { expandedUncertainty, type Quantity } from "./quantity.ts";
import { magnitude, roundHalfEven } from "./rounding.ts";
import { recordingDecimals, shownUnit } from "./showing.ts";

/** How a recorded result compares with what its formula gives. */
export type RecordedState =
  | { readonly kind: "agrees" }
  /** `text` is the number as it should stand, rounded to the decimals that are shown. */
  | { readonly kind: "stale"; readonly text: string }
  | { readonly kind: "unknown unit"; readonly unit: string }
  | { readonly kind: "other unit"; readonly unit: string };

/** A recorded result equals the formula's value rounded half-even to the decimals it shows, in its unit. */
export function recordedState(recorded: Recorded, result: Quantity, own?: OwnUnits): RecordedState {
  const unit = recordedUnit(recorded, result, own);
  if (typeof unit === "string") {
    return readUnit(unit, own).ok ? { kind: "other unit", unit } : { kind: "unknown unit", unit };
  }
  const value = fromSI(result.si, unit);
  const text = roundHalfEven(value, Math.max(0, recorded.decimals));
  const shown = roundHalfEven(recorded.number.value, Math.max(0, recorded.decimals));
  if (text === shown || sameAtStep(recorded, value)) return { kind: "agrees" };
  return { kind: "stale", text };
}

/** `1.2e3` shows no decimals but hundreds; there the step of its last digit decides. */
function sameAtStep(recorded: Recorded, value: number): boolean {
  return (
    recorded.decimals < 0 &&
    roundHalfEven(value, recorded.decimals) === roundHalfEven(recorded.number.value, recorded.decimals)
  );
}

function recordedUnit(recorded: Recorded, result: Quantity, own: OwnUnits | undefined): Unit | string {
  if (!recorded.unit) {
    const plain = shownUnit(result);
    return plain && plain.spelling === "" ? plain : "";
  }
  const reading = readUnit(recorded.unit.text, own);
  if (!reading.ok || reading.unit.dimension !== result.dimension) return recorded.unit.text;
  return showable(reading.unit, result) ?? recorded.unit.text;
}

/** Edits that record every derived result, or refresh the ones that are stale. Idempotent. */
export function recordedEdits(note: Note, evaluation: Evaluation, own?: OwnUnits): readonly TextEdit[] {
  const edits: TextEdit[] = [];
  for (const evaluated of evaluation.all) {
    const { body } = evaluated.definition;
    if (body.kind !== "line" || body.syntax.kind !== "formula") continue;
    const edit = recordedEdit(note, body.placed as Placed<FormulaLine>, body.syntax, evaluated, own);
    if (edit) edits.push(edit);
  }
  return edits.sort((a, b) => a.range.from - b.range.from);
}

function recordedEdit(
  note: Note,
  placed: Placed<FormulaLine>,
  syntax: FormulaLine,
  evaluated: Evaluated,
  own: OwnUnits | undefined,
): TextEdit | undefined {
  const { result } = evaluated;
  if (result?.kind !== "quantity" || syntax.problems.length > 0) return undefined;
  const unit = shownUnit(result);
  if (!unit) return undefined;
  if (syntax.recorded) {
    const state = recordedState(syntax.recorded, result, own);
    if (state.kind === "agrees") return undefined;
    const { span, unit: written } = syntax.recorded;
    const text =
      state.kind === "stale" && written ? `${state.text} ${written.text}` : recordedText(result, unit);
    return { range: { from: placed.offset + span.from, to: placed.offset + span.to }, text };
  }
  const at = placed.offset + syntax.formula.span.to;
  const before = note.text.charAt(at - 1) === " " ? "" : "  ";
  return { range: { from: at, to: at }, text: `${before}≈ ${recordedText(result, unit)}` };
}

/** A result as it is recorded: rounded to what its uncertainty is worth. */
export function recordedText(result: Quantity, unit: Unit): string {
  const value = fromSI(result.si, unit);
  const expanded = expandedUncertainty(result);
  const decimals = recordingDecimals(value, expanded === undefined ? null : expanded / Math.abs(unit.factor));
  const size = magnitude(value);
  const number =
    size < -9 || size > 12
      ? Number(value.toPrecision(4)).toExponential()
      : roundHalfEven(value, Math.max(0, decimals));
  return unit.spelling === "" ? number : `${number} ${unit.spelling}`;
}
