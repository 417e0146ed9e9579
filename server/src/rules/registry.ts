/** Every rule, one file each. A new rule joins by its import and its place in the list. */
import { rule as acceptNoReason } from "./accept-no-reason.ts";
import { rule as acceptUnused } from "./accept-unused.ts";
import { rule as electricalBatteryBudget } from "./electrical-battery-budget.ts";
import { rule as electricalSupplyOverload } from "./electrical-supply-overload.ts";
import { rule as instrumentCalibrationDue } from "./instrument-calibration-due.ts";
import { rule as instrumentOutOfRange } from "./instrument-out-of-range.ts";
import { rule as instrumentTooCoarse } from "./instrument-too-coarse.ts";
import { rule as instrumentUnknown } from "./instrument-unknown.ts";
import { rule as limitExceeded } from "./limit-exceeded.ts";
import { rule as limitNotProven } from "./limit-not-proven.ts";
import { rule as moistureNotDry } from "./moisture-not-dry.ts";
import { rule as moistureTooHot } from "./moisture-too-hot.ts";
import { rule as noteFrontMatter } from "./note-front-matter.ts";
import { rule as noteMissingFile } from "./note-missing-file.ts";
import { rule as noteSyntax } from "./note-syntax.ts";
import { rule as noteUnknownStep } from "./note-unknown-step.ts";
import { rule as noteVinCheckDigit } from "./note-vin-check-digit.ts";
import { rule as pressureCleaningAir } from "./pressure-cleaning-air.ts";
import { rule as pressureMedium } from "./pressure-medium.ts";
import { rule as pressureNoLimit } from "./pressure-no-limit.ts";
import { rule as pressureOverLimit } from "./pressure-over-limit.ts";
import { rule as readingCircular } from "./reading-circular.ts";
import { rule as readingDuplicate } from "./reading-duplicate.ts";
import { rule as readingImplausible } from "./reading-implausible.ts";
import { rule as readingMissing } from "./reading-missing.ts";
import { rule as readingOutOfValidity } from "./reading-out-of-validity.ts";
import { rule as readingStaleResult } from "./reading-stale-result.ts";
import { rule as readingUndefined } from "./reading-undefined.ts";
import { rule as reviewUnsupported } from "./review-unsupported.ts";
import type { Rule } from "./rule.ts";
import { rule as sequenceIncomplete } from "./sequence-incomplete.ts";
import { rule as sequenceLeftBehind } from "./sequence-left-behind.ts";
import { rule as sequenceNeeds } from "./sequence-needs.ts";
import { rule as sequenceNoOutcome } from "./sequence-no-outcome.ts";
import { rule as sequenceNotCured } from "./sequence-not-cured.ts";
import { rule as sequenceNotDry } from "./sequence-not-dry.ts";
import { rule as sequenceTimeOrder } from "./sequence-time-order.ts";
import { rule as unitDecimalComma } from "./unit-decimal-comma.ts";
import { rule as unitMismatch } from "./unit-mismatch.ts";
import { rule as unitScalePoint } from "./unit-scale-point.ts";
import { rule as unitUnknown } from "./unit-unknown.ts";

/** Rules that look at the note. */
export const findingRules: readonly Rule[] = [
  electricalBatteryBudget,
  electricalSupplyOverload,
  instrumentCalibrationDue,
  instrumentOutOfRange,
  instrumentTooCoarse,
  instrumentUnknown,
  limitExceeded,
  limitNotProven,
  moistureNotDry,
  moistureTooHot,
  noteFrontMatter,
  noteMissingFile,
  noteSyntax,
  noteUnknownStep,
  noteVinCheckDigit,
  pressureCleaningAir,
  pressureMedium,
  pressureNoLimit,
  pressureOverLimit,
  readingCircular,
  readingDuplicate,
  readingImplausible,
  readingMissing,
  readingOutOfValidity,
  readingStaleResult,
  readingUndefined,
  reviewUnsupported,
  sequenceIncomplete,
  sequenceLeftBehind,
  sequenceNeeds,
  sequenceNoOutcome,
  sequenceNotCured,
  sequenceNotDry,
  sequenceTimeOrder,
  unitDecimalComma,
  unitMismatch,
  unitScalePoint,
  unitUnknown,
];

/** Rules about accepts, which run once the findings are known. */
export const acceptRules: readonly Rule[] = [acceptNoReason, acceptUnused];

export const rules: readonly Rule[] = [...findingRules, ...acceptRules];
