/** Pages of the rule reference by rule id. Not part of the editor bundle. */
import { page as acceptNoReason } from "./accept-no-reason.ts";
import { page as acceptUnused } from "./accept-unused.ts";
import { page as electricalBatteryBudget } from "./electrical-battery-budget.ts";
import { page as electricalSupplyOverload } from "./electrical-supply-overload.ts";
import { page as instrumentCalibrationDue } from "./instrument-calibration-due.ts";
import { page as instrumentOutOfRange } from "./instrument-out-of-range.ts";
import { page as instrumentTooCoarse } from "./instrument-too-coarse.ts";
import { page as instrumentUnknown } from "./instrument-unknown.ts";
import { page as limitExceeded } from "./limit-exceeded.ts";
import { page as limitNotProven } from "./limit-not-proven.ts";
import { page as moistureNotDry } from "./moisture-not-dry.ts";
import { page as moistureTooHot } from "./moisture-too-hot.ts";
import { page as noteFrontMatter } from "./note-front-matter.ts";
import { page as noteMissingFile } from "./note-missing-file.ts";
import { page as noteSyntax } from "./note-syntax.ts";
import { page as noteUnknownStep } from "./note-unknown-step.ts";
import { page as noteVinCheckDigit } from "./note-vin-check-digit.ts";
import { page as pressureCleaningAir } from "./pressure-cleaning-air.ts";
import { page as pressureMedium } from "./pressure-medium.ts";
import { page as pressureNoLimit } from "./pressure-no-limit.ts";
import { page as pressureOverLimit } from "./pressure-over-limit.ts";
import { page as readingCircular } from "./reading-circular.ts";
import { page as readingDuplicate } from "./reading-duplicate.ts";
import { page as readingImplausible } from "./reading-implausible.ts";
import { page as readingMissing } from "./reading-missing.ts";
import { page as readingOutOfValidity } from "./reading-out-of-validity.ts";
import { page as readingStaleResult } from "./reading-stale-result.ts";
import { page as readingUndefined } from "./reading-undefined.ts";
import { page as reviewUnsupported } from "./review-unsupported.ts";
import type { RulePage } from "./rule.ts";
import { page as sequenceIncomplete } from "./sequence-incomplete.ts";
import { page as sequenceLeftBehind } from "./sequence-left-behind.ts";
import { page as sequenceNeeds } from "./sequence-needs.ts";
import { page as sequenceNoOutcome } from "./sequence-no-outcome.ts";
import { page as sequenceNotCured } from "./sequence-not-cured.ts";
import { page as sequenceNotDry } from "./sequence-not-dry.ts";
import { page as sequenceTimeOrder } from "./sequence-time-order.ts";
import { page as unitDecimalComma } from "./unit-decimal-comma.ts";
import { page as unitMismatch } from "./unit-mismatch.ts";
import { page as unitScalePoint } from "./unit-scale-point.ts";
import { page as unitUnknown } from "./unit-unknown.ts";

export const pages: ReadonlyMap<string, RulePage> = new Map([
  ["accept/no-reason", acceptNoReason],
  ["accept/unused", acceptUnused],
  ["electrical/battery-budget", electricalBatteryBudget],
  ["electrical/supply-overload", electricalSupplyOverload],
  ["instrument/calibration-due", instrumentCalibrationDue],
  ["instrument/out-of-range", instrumentOutOfRange],
  ["instrument/too-coarse", instrumentTooCoarse],
  ["instrument/unknown", instrumentUnknown],
  ["limit/exceeded", limitExceeded],
  ["limit/not-proven", limitNotProven],
  ["moisture/not-dry", moistureNotDry],
  ["moisture/too-hot", moistureTooHot],
  ["note/front-matter", noteFrontMatter],
  ["note/missing-file", noteMissingFile],
  ["note/syntax", noteSyntax],
  ["note/unknown-step", noteUnknownStep],
  ["note/vin-check-digit", noteVinCheckDigit],
  ["pressure/cleaning-air", pressureCleaningAir],
  ["pressure/medium", pressureMedium],
  ["pressure/no-limit", pressureNoLimit],
  ["pressure/over-limit", pressureOverLimit],
  ["reading/circular", readingCircular],
  ["reading/duplicate", readingDuplicate],
  ["reading/implausible", readingImplausible],
  ["reading/missing", readingMissing],
  ["reading/out-of-validity", readingOutOfValidity],
  ["reading/stale-result", readingStaleResult],
  ["reading/undefined", readingUndefined],
  ["review/unsupported", reviewUnsupported],
  ["sequence/incomplete", sequenceIncomplete],
  ["sequence/left-behind", sequenceLeftBehind],
  ["sequence/needs", sequenceNeeds],
  ["sequence/no-outcome", sequenceNoOutcome],
  ["sequence/not-cured", sequenceNotCured],
  ["sequence/not-dry", sequenceNotDry],
  ["sequence/time-order", sequenceTimeOrder],
  ["unit/decimal-comma", unitDecimalComma],
  ["unit/mismatch", unitMismatch],
  ["unit/scale-point", unitScalePoint],
  ["unit/unknown", unitUnknown],
]);
