import * as z from "zod/mini";
import type { YamlEntry } from "../note/yaml-tree.ts";
import { nearest } from "../text/nearest.ts";
import { daysMeant, isRealDay, monthsLater } from "../text/real-day.ts";
import * as dimensions from "../units/dimension.ts";
import type { Unit } from "../units/unit.ts";
import { asPoint, asWidth, fits, type Piece, part, type Report, readNumber, readQuantity } from "./piece.ts";
import { checkForm, entryRange, optionalText, textAt, textsAt, valueAt } from "./section.ts";
import type { AccuracyPart, Instrument } from "./shop.ts";

const text = z.string().check(z.minLength(1));
const splitSchema = z.strictObject({ zero: text, gain: text, repeatability: text });
const instrumentSchema = z.strictObject({
  description: z.optional(text),
  measures: text,
  range: text,
  resolution: z.optional(text),
  accuracy: z.optional(text),
  calibrated: z.optional(z.union([text, z.array(text)])),
  interval: z.optional(text),
  split: z.optional(splitSchema),
  serial: z.optional(text),
});

/** What an instrument may measure, in the trade's words. */
const MEASURES: ReadonlyMap<string, dimensions.Dimension> = new Map([
  ["pressure", dimensions.PRESSURE],
  ["flow", dimensions.VOLUME_FLOW],
  ["mass flow", dimensions.MASS_FLOW],
  ["leak rate", dimensions.THROUGHPUT],
  ["temperature", dimensions.TEMPERATURE],
  ["humidity", dimensions.NONE],
  ["share", dimensions.NONE],
  ["voltage", dimensions.VOLTAGE],
  ["current", dimensions.CURRENT],
  ["resistance", dimensions.RESISTANCE],
  ["charge", dimensions.CHARGE],
  ["power", dimensions.POWER],
  ["torque", dimensions.ENERGY],
  ["length", dimensions.LENGTH],
  ["area", dimensions.AREA],
  ["volume", dimensions.VOLUME],
  ["mass", dimensions.MASS],
  ["force", dimensions.FORCE],
  ["time", dimensions.TIME],
  ["speed", dimensions.SPEED],
  ["frequency", dimensions.FREQUENCY],
]);

/** Reads one instrument; undefined where it cannot serve, with the reason reported. */
export function readInstrument(entry: YamlEntry, report: Report): Instrument | undefined {
  const id = entry.key;
  const what = `the instrument \`${id}\``;
  const map = checkForm(entry.value, instrumentSchema, what, entry.keyRange, report);
  if (!map) return undefined;
  const measures = readMeasures(textAt(map, "measures"), report);
  const range = readRange(textAt(map, "range"), report);
  if (!measures || !range) return undefined;
  if (range.unit.dimension !== measures) {
    const at = textAt(map, "range");
    if (at) fits({ number: range.low, unit: range.unit, at }, measures, `The range of ${what}`, report);
    return undefined;
  }
  const width = (key: string): number | undefined => {
    const piece = textAt(map, key);
    const quantity = piece && readQuantity(piece, report);
    return quantity && fits(quantity, measures, `The ${key} of ${what}`, report)
      ? asWidth(quantity)
      : undefined;
  };
  const resolution = width("resolution") ?? 0;
  const accuracyText = textAt(map, "accuracy");
  const accuracy = accuracyText ? readAccuracy(accuracyText, range.unit, resolution, what, report) : [];
  const split = readSplit(entry, range.unit, report);
  return {
    id,
    ...optionalText(map, "description"),
    measures,
    unit: range.unit,
    low: range.low,
    high: range.high,
    resolution,
    accuracy,
    ...(split ? { split } : {}),
    ...readCalibration(textsAt(map, "calibrated"), textAt(map, "interval"), report),
    range: entryRange(entry),
  };
}

function readMeasures(piece: Piece | undefined, report: Report): dimensions.Dimension | undefined {
  if (!piece) return undefined;
  const known = MEASURES.get(piece.text.toLowerCase());
  if (known) return known;
  const [near] = nearest(piece.text, MEASURES.keys(), 1);
  const advice = near ? `Perhaps \`${near}\` is meant.` : `Write one of ${[...MEASURES.keys()].join(", ")}.`;
  report(piece.range, `\`${piece.text}\` is nothing that an instrument here can measure.`, advice);
  return undefined;
}

function readRange(
  piece: Piece | undefined,
  report: Report,
): { low: number; high: number; unit: Unit } | undefined {
  if (!piece) return undefined;
  const between = /\s+to\s+/.exec(piece.text);
  if (!between) {
    report(piece.range, `\`${piece.text}\` is no range.`, "Write both ends with `to` between: 0 to 5 psi.");
    return undefined;
  }
  const high = readQuantity(part(piece, between.index + between[0].length), report);
  const low = high && readQuantity(part(piece, 0, between.index), report, high.unit);
  if (!high || !low || !fits(low, high.unit.dimension, "The lower end", report)) return undefined;
  if (asPoint(low) >= asPoint(high)) {
    report(piece.range, "The range's lower end is not below its upper end.", "Write the lower end first.");
    return undefined;
  }
  return { low: asPoint(low), high: asPoint(high), unit: high.unit };
}

/** `0.5 % of reading + 2 digits`: the parts of an accuracy statement, each a half-width, added up. */
function readAccuracy(
  piece: Piece,
  unit: Unit,
  resolution: number,
  what: string,
  report: Report,
): AccuracyPart[] {
  const parts: AccuracyPart[] = [];
  for (const match of piece.text.matchAll(/(?:^|\s\+\s)((?:(?!\s\+\s).)*)/g)) {
    const start = match.index + match[0].length - (match[1]?.length ?? 0);
    const written = part(piece, start, start + (match[1]?.length ?? 0));
    const bare = /^(?:±|\+\/-|\+-)/.exec(written.text);
    const read = accuracyPart(bare ? part(written, bare[0].length) : written, unit, resolution, what, report);
    // A part that cannot be read would make the instrument look better than it is, so none of it counts.
    if (!read) return [];
    parts.push(read);
  }
  return parts;
}

function accuracyPart(
  piece: Piece,
  unit: Unit,
  resolution: number,
  what: string,
  report: Report,
): AccuracyPart | undefined {
  const share = /\s+of\s+(?:the\s+)?(reading|full scale|span|range)$/i.exec(piece.text);
  if (share) {
    const quantity = readQuantity(part(piece, 0, share.index), report);
    if (!quantity || !fits(quantity, dimensions.NONE, "A share", report)) return undefined;
    const fraction = asWidth(quantity);
    return { kind: share[1]?.toLowerCase() === "reading" ? "of reading" : "of full scale", fraction };
  }
  const digits = /\s*(?:digits?|counts?)$/i.exec(piece.text);
  if (digits) {
    const read = readNumber(part(piece, 0, digits.index), report);
    if (!read) return undefined;
    if (resolution > 0) return { kind: "digits", count: Math.abs(read.number) };
    report(
      piece.range,
      `Digits tell nothing while the resolution of ${what} is not known.`,
      "Add `resolution:`, one step of its display.",
    );
    return undefined;
  }
  const quantity = readQuantity(piece, report);
  if (!quantity) return undefined;
  if (quantity.unit.dimension === dimensions.NONE && unit.dimension !== dimensions.NONE) {
    const advice = `Write \`${piece.text} of reading\` or \`${piece.text} of full scale\`, as its data sheet says.`;
    report(
      piece.range,
      `\`${piece.text}\` of what? The reading and the full scale give different errors.`,
      advice,
    );
    return undefined;
  }
  if (!fits(quantity, unit.dimension, `The accuracy of ${what}`, report)) return undefined;
  return { kind: "fixed", halfWidth: asWidth(quantity) };
}

/** The error's parts: zero and gain are limits (±), repeatability is a standard deviation. */
function readSplit(entry: YamlEntry, unit: Unit, report: Report): Instrument["split"] {
  if (entry.value.kind !== "map") return undefined;
  const node = valueAt(entry.value, "split");
  if (node?.kind !== "map") return undefined;
  const width = (key: string, wanted: dimensions.Dimension): number | undefined => {
    const piece = textAt(node, key);
    const quantity = piece && readQuantity(piece, report);
    return quantity && fits(quantity, wanted, `\`${key}\``, report) ? asWidth(quantity) : undefined;
  };
  const zero = width("zero", unit.dimension);
  const gain = width("gain", dimensions.NONE);
  const repeatability = width("repeatability", unit.dimension);
  if (zero === undefined || gain === undefined || repeatability === undefined) return undefined;
  return { zero, gain, repeatability };
}

function readCalibration(
  calibrated: readonly Piece[],
  interval: Piece | undefined,
  report: Report,
): Pick<Instrument, "calibrations" | "calibrated" | "intervalMonths" | "calibrationDue"> {
  for (const { text: said, range } of calibrated) {
    if (isRealDay(said)) continue;
    const meant = daysMeant(said);
    const advice =
      meant.length > 0 ? `Write ${meant.join(" or ")}.` : "Write year, month and day: 2031-01-15.";
    report(range, `\`${said}\` is not read as a day of the calendar.`, advice);
  }
  const days = [...new Set(calibrated.map((piece) => piece.text).filter(isRealDay))].sort();
  const day = days.at(-1);
  const count = interval ? /^([1-9]\d{0,2})\s*(months?|years?)$/i.exec(interval.text) : null;
  if (interval && !count) {
    report(
      interval.range,
      `\`${interval.text}\` is no calibration interval.`,
      "Write whole months or years: 12 months.",
    );
  }
  const months = count ? Number(count[1]) * (count[2]?.toLowerCase().startsWith("year") ? 12 : 1) : undefined;
  return {
    ...(day ? { calibrations: days, calibrated: day } : {}),
    ...(months ? { intervalMonths: months } : {}),
    ...(day && months ? { calibrationDue: monthsLater(day, months) } : {}),
  };
}
