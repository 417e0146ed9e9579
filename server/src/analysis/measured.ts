import type { MeasuredLine } from "../language/syntax.ts";
import { coverageWidening } from "../physics/student-t.ts";
import { type Instrument, limitOfError, type Shop } from "../shop/shop.ts";
import { NONE, PRESSURE } from "../units/dimension.ts";
import { type OwnUnits, PLAIN_NUMBER, readUnit } from "../units/index.ts";
import { toSI, type Unit } from "../units/unit.ts";
import type { Problem } from "./problem.ts";
import type { Quantity, Result, Sampling, Sensitivities, Source } from "./quantity.ts";

/** Readings that are absolute pressures by their nature; written bare they are asked to say so. */
const ABSOLUTE_BY_NAME = new Set(["ambient pressure", "barometer", "manifold absolute pressure"]);

export interface InstrumentErrors {
  /** Error sources that every reading through an instrument shares, when the shop file splits them. */
  sharedZero(instrument: Instrument): Source;
  sharedGain(instrument: Instrument): Source;
}

/**
 * The value of a measured line with its uncertainty, as JCGM 100:2008 evaluates it: `±` or the instrument's
 * limit of error as a rectangle (4.3.7), else the resolution of the last digit (F.2.2.1); repeated readings
 * add their scatter (4.2).
 */
export function measure(
  line: MeasuredLine,
  name: string,
  shop: Shop,
  errors: InstrumentErrors,
  problems: Problem[],
): Result {
  const { value } = line;
  if (value.kind === "text") return { kind: "text", text: value.text };
  if (value.kind === "truth") return { kind: "truth", value: value.value };
  const unit = unitOf(line, name, problems, shop.units);
  if (!unit) return undefined;

  const values = value.numbers.map((n) => toSI(n.value, unit));
  const n = values.length;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const step = Math.max(...value.numbers.map((number) => number.step)) * Math.abs(unit.factor);
  const counted =
    unit.spelling === "" &&
    value.numbers.every((number) => Number.isInteger(number.value) && number.step === 1);
  const exact = counted && !line.tolerance && !line.instrument;
  const resolution = exact ? 0 : step / Math.sqrt(12);

  const shared = sharedError(line, name, unit, mean, resolution, shop, errors, problems);
  if (!shared) return undefined;
  let by = shared;
  if (n > 1) {
    const scatter = typeA(values, mean);
    const own = new Map(shared);
    if (scatter > 0)
      own.set({ says: `scatter of ${n} readings of ${name}`, standard: scatter, normal: true }, 1);
    by = own;
  }
  const quantity: Quantity = {
    kind: "quantity",
    si: mean,
    dimension: unit.dimension,
    scale: unit.scale,
    unit,
    by,
  };
  if (n === 1) return quantity;
  const sampling: Sampling = { values, resolution, shared };
  return { ...quantity, sampling };
}

/**
 * Standard uncertainty of a mean from its scatter, (s/√n) · max(1, t₉₅(n−1)/2), so that twice it still
 * covers 95 % when the readings are few.
 */
export function typeA(values: readonly number[], mean: number): number {
  const n = values.length;
  if (n < 2) return 0;
  const squares = values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  const s = Math.sqrt(squares / (n - 1));
  return (s / Math.sqrt(n)) * coverageWidening(n - 1);
}

function unitOf(
  line: MeasuredLine,
  name: string,
  problems: Problem[],
  own: OwnUnits | undefined,
): Unit | undefined {
  if (line.value.kind !== "number") return undefined;
  const written = line.value.unit ?? line.displayUnit;
  if (!written) return PLAIN_NUMBER;
  const reading = readUnit(written.text, own);
  if (!reading.ok) {
    problems.push({ rule: "unit/unknown", span: written.span, spelling: written.text, reading });
    return undefined;
  }
  if (ABSOLUTE_BY_NAME.has(name) && reading.unit.scale === "gauge" && reading.unit.dimension === PRESSURE) {
    problems.push({
      rule: "unit/scale-point",
      case: "bare absolute",
      span: written.span,
      name,
      unit: written.span,
      spelling: written.text,
    });
    // Taken as what it can only be, so that this one mistake does not drag others behind it.
    return { ...reading.unit, scale: "absolute", spelling: `${written.text}(a)` };
  }
  return reading.unit;
}

function sharedError(
  line: MeasuredLine,
  name: string,
  unit: Unit,
  mean: number,
  resolution: number,
  shop: Shop,
  errors: InstrumentErrors,
  problems: Problem[],
): Sensitivities | undefined {
  const by = new Map<Source, number>();
  const instrument = line.instrument ? shop.instruments.get(line.instrument.key) : undefined;
  const fits = instrument && instrument.measures === unit.dimension ? instrument : undefined;
  const through = line.instrument ? { instrument: line.instrument.key } : {};
  const repeated = line.value.kind === "number" && line.value.numbers.length > 1;
  const addResolution = () => {
    if (resolution > 0) by.set({ says: `resolution of ${name}`, standard: resolution }, 1);
  };

  if (line.tolerance) {
    const halfWidth = toleranceHalfWidth(line, unit, mean, problems, shop.units);
    if (halfWidth === undefined) return undefined;
    by.set({ says: `± of ${name}`, standard: halfWidth / Math.sqrt(3), ...through }, 1);
    if (repeated) addResolution();
    return by;
  }
  const limit = fits ? limitOfError(fits, readingFor(fits, mean)) : undefined;
  if (!fits || limit === undefined) {
    addResolution();
    return by;
  }
  if (fits.split) {
    by.set(errors.sharedZero(fits), 1);
    by.set(errors.sharedGain(fits), readingFor(fits, mean));
    by.set(
      { says: `repeatability of ${fits.id} at ${name}`, standard: fits.split.repeatability, normal: true },
      1,
    );
  } else {
    by.set({ says: `accuracy of ${fits.id} at ${name}`, standard: limit / Math.sqrt(3), ...through }, 1);
  }
  if (repeated) addResolution();
  return by;
}

/** Accuracy "of reading" means the reading on the instrument's own scale, so degrees count from its zero. */
const readingFor = (instrument: Instrument, si: number): number => si - instrument.unit.offset;

/** Half-width of the limit that `±` states, SI. */
function toleranceHalfWidth(
  line: MeasuredLine,
  unit: Unit,
  mean: number,
  problems: Problem[],
  own: OwnUnits | undefined,
): number | undefined {
  const { tolerance } = line;
  if (!tolerance) return undefined;
  const amount = tolerance.number.value;
  if (!tolerance.unit) return amount * Math.abs(unit.factor);
  const reading = readUnit(tolerance.unit.text, own);
  if (!reading.ok) {
    problems.push({
      rule: "unit/unknown",
      span: tolerance.unit.span,
      spelling: tolerance.unit.text,
      reading,
    });
    return undefined;
  }
  if (reading.unit.dimension === NONE && unit.dimension !== NONE) {
    if (unit.scale === "point") {
      problems.push({
        rule: "unit/scale-point",
        case: "relative tolerance",
        span: tolerance.span,
        spelling: unit.spelling,
      });
      return undefined;
    }
    return amount * reading.unit.factor * Math.abs(mean);
  }
  // On a plain number without a unit a percentage is relative; on a reading in % it means percentage points.
  if (unit.dimension === NONE && reading.unit.dimension === NONE) {
    const relative = unit.factor === 1 && reading.unit.factor !== 1;
    return relative ? amount * reading.unit.factor * Math.abs(mean) : amount * reading.unit.factor;
  }
  if (reading.unit.dimension !== unit.dimension) {
    problems.push({
      rule: "unit/mismatch",
      case: "tolerance",
      span: tolerance.unit.span,
      got: {
        span: tolerance.unit.span,
        dimension: reading.unit.dimension,
        scale: reading.unit.scale,
        unit: tolerance.unit.text,
      },
      asked: { span: tolerance.span, dimension: unit.dimension, scale: unit.scale, unit: unit.spelling },
    });
    return undefined;
  }
  // `± 0.5 degC` means half a degree as a difference, so the scale's zero plays no part.
  return amount * Math.abs(reading.unit.factor);
}
