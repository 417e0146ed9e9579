import { SIGNS } from "../../../../grammar/line-language.ts";
import { readName, skipBlanks } from "../../language/scanner.ts";
import type { ExpectedReading } from "../../procedures/procedure-schema.ts";
import { procedureOf, valueOfKey } from "../look-up.ts";
import { formulaPlace } from "./formula-place.ts";
import { completeFormula } from "./formulas.ts";
import { type Completion, type LinePlace, typedFrom } from "./place.ts";
import { type Fitting, fittingOf, fittingUnits, unitCompletion, unitCompletions } from "./units.ts";

export function completeReading(place: LinePlace): Completion[] {
  const { before } = place;
  const start = skipBlanks(before, 0);
  const name = readName(before, start, false);
  if (!name) return start >= before.length ? expectedReadings(place, before.length) : [];

  let at = skipBlanks(before, name.span.to);
  if (at >= before.length) return expectedReadings(place, name.span.from);
  let shownIn: string | undefined;
  if (before[at] === "[") {
    const close = before.indexOf("]", at);
    if (close < 0) {
      return fittingUnits(
        typedFrom(place, skipBlanks(before, at + 1)),
        fittingOfName(place, name.key),
        place.shop.units,
      );
    }
    shownIn = before.slice(at + 1, close).trim();
    at = skipBlanks(before, close + 1);
  }
  if (before[at] === "=") {
    const recorded = lastSign(before, SIGNS.recorded, at);
    if (recorded === undefined) return completeFormula(place, at + 1, name.key);
    const number = formulaPlace(before, recorded);
    const fitting = fittingOf(shownIn, place.shop.units) ?? fittingOfName(place, name.key);
    return number.at === "unit"
      ? unitCompletions(typedFrom(place, number.from), fitting, place.shop.units)
      : [];
  }
  if (before[at] !== ":") return [];
  return completeMeasured(
    place,
    at + 1,
    fittingOf(shownIn, place.shop.units) ?? fittingOfName(place, name.key),
  );
}

const VIA = /(?:^|[ \t])via[ \t]+(.*)$/;
const CLOCK = /(?:^|[ \t])at[ \t]+[\d:]*$/;

function completeMeasured(place: LinePlace, from: number, fitting: Fitting | undefined): Completion[] {
  const { before } = place;
  const value = before.slice(from);
  const via = VIA.exec(value);
  if (via && !CLOCK.test(via[1] ?? "")) return instruments(place, before.length - (via[1] ?? "").length);
  if (CLOCK.test(value)) return [];

  const tolerance = lastSign(before, SIGNS.tolerance, from);
  const number = formulaPlace(before, tolerance ?? from);
  if (number.at === "unit") {
    const replaces = typedFrom(place, number.from);
    const units = unitCompletions(replaces, fitting, place.shop.units);
    if (tolerance === undefined) return units;
    return [...units.slice(0, 8), unitCompletion("%", replaces), ...units.slice(8)];
  }
  if (number.at !== "operator" || !/[ \t]$/.test(before)) return [];
  const replaces = typedFrom(place, before.length);
  const word = (label: string, text: string, detail: string): Completion => {
    return { label, kind: "word", text, replaces, detail };
  };
  return [
    word("via", "via ", "the instrument it was read with"),
    word("at", "at ", "the time it was read"),
    word("±", "± ", "how far off it may be"),
  ];
}

function instruments(place: LinePlace, column: number): Completion[] {
  return [...place.shop.instruments.values()].map((instrument) => ({
    label: instrument.id,
    kind: "instrument",
    text: instrument.id,
    replaces: typedFrom(place, column),
    ...(instrument.description ? { detail: instrument.description } : {}),
    about: instrument.id,
  }));
}

/** Readings that the procedure expects and that are not there yet, the required ones first. */
function expectedReadings(place: LinePlace, column: number): Completion[] {
  const procedure = procedureOf(place.analysis.note, place.shop);
  if (!procedure) return [];
  const present = new Set<string>();
  for (const block of place.analysis.note.blocks) {
    if (block.kind !== "readings") continue;
    for (const { syntax, offset } of block.lines) {
      if ("name" in syntax && syntax.name && offset !== place.start) present.add(syntax.name.key);
    }
  }
  const wanted = procedure.readings.filter((reading) => namesOf(reading).every((name) => !present.has(name)));
  const ordered = [...wanted.filter((r) => r.required), ...wanted.filter((r) => !r.required)];
  return ordered.map((reading) => ({
    label: reading.name,
    kind: "expected reading",
    text: `${reading.name}: `,
    replaces: typedFrom(place, column),
    detail: reading.unit ?? "in words",
    about: reading.name,
  }));
}

const namesOf = (reading: ExpectedReading): string[] =>
  [reading.name, ...(reading.aliases ?? [])].map((name) => name.toLowerCase());

function fittingOfName(place: LinePlace, name: string): Fitting | undefined {
  const { label } = place.line.block;
  const shown =
    valueOfKey(place.analysis, label === "" ? name : `${label.toLowerCase()} ${name}`)?.shown ??
    valueOfKey(place.analysis, name)?.shown;
  const known =
    shown?.kind === "quantity" && shown.unit !== "" ? fittingOf(shown.unit, place.shop.units) : undefined;
  if (known) return known;
  const expected = procedureOf(place.analysis.note, place.shop)?.readings.find((reading) =>
    namesOf(reading).includes(name),
  );
  return fittingOf(expected?.unit, place.shop.units);
}

/** Column right behind the last of these signs, from a column on. */
function lastSign(text: string, signs: readonly string[], from: number): number | undefined {
  let found = -1;
  for (const sign of signs) {
    const at = text.lastIndexOf(sign);
    if (at >= from) found = Math.max(found, at + sign.length);
  }
  return found < 0 ? undefined : found;
}
