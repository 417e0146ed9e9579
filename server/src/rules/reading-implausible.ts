import type { Quantity } from "../analysis/quantity.ts";
import {
  AREA,
  CURRENT,
  MASS,
  NONE,
  PRESSURE,
  RESISTANCE,
  TEMPERATURE,
  VOLTAGE,
  VOLUME,
} from "../units/dimension.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

/** A bound that a kind of reading cannot, or hardly can, cross. Values in SI. */
interface Bound {
  /** Which readings it is for, by their name; every name when left out. */
  readonly named?: RegExp;
  readonly applies: (quantity: Quantity) => boolean;
  readonly least?: number;
  readonly most?: number;
  readonly says: string;
}

const of = (dimension: Quantity["dimension"]) => (quantity: Quantity) => quantity.dimension === dimension;
const celsius = (degrees: number): number => degrees + 273.15;
const isGauge = (q: Quantity): boolean => q.dimension === PRESSURE && q.scale === "gauge";
const absolutely = (quantity: Quantity): boolean =>
  quantity.dimension === TEMPERATURE && (quantity.scale === "point" || quantity.scale === "kelvin");
const AIR = /\b(ambient|bay|room|shop|workshop|outside|outdoor|garage|cabin) (air )?temperature\b/;
const LOW_VOLTAGE =
  /\b(battery|supply|charging|rest|open|cranking|system|alternator)\b.*\bvoltage\b|\bvoltage\b.*\b(battery|supply)\b/;

/** Highest voltage of a 24 V vehicle on charge; common practice, no source. */
const HIGHEST_LOW_VOLTAGE = 32;

const BOUNDS: readonly Bound[] = [
  {
    named: /\bhumidity\b/,
    applies: (q) => q.dimension === NONE && q.unit?.spelling === "%",
    least: 0,
    most: 1,
    says: "Relative humidity lies between 0 % and 100 %.",
  },
  {
    named: /\b(charge state|state of charge)\b/,
    applies: of(NONE),
    least: 0,
    most: 1,
    says: "A battery's charge lies between 0 % and 100 %.",
  },
  { applies: absolutely, least: 0, says: "Nothing is colder than 0 K (-273.15 degC)." },
  {
    named: AIR,
    applies: absolutely,
    least: celsius(-60),
    most: celsius(70),
    says: "Air where people work lies between -60 and 70 degC (common practice, no source).",
  },
  {
    applies: (q) => q.dimension === PRESSURE && q.scale === "absolute",
    least: 0,
    says: "An absolute pressure is never below zero.",
  },
  {
    applies: isGauge,
    least: -108_500,
    says: "A gauge pressure cannot lie further below zero than the air presses.",
  },
  {
    named: /^(.* )?(ambient pressure|barometer)$/,
    applies: of(PRESSURE),
    least: 50_000,
    most: 110_000,
    says: "Ambient pressure lies between 50 kPa (on a high pass) and 110 kPa (common practice, no source).",
  },
  {
    named: LOW_VOLTAGE,
    applies: of(VOLTAGE),
    least: -HIGHEST_LOW_VOLTAGE,
    most: HIGHEST_LOW_VOLTAGE,
    says: "A 12 V or 24 V system stays below 32 V (common practice, no source). On a high-voltage system only a qualified person may measure.",
  },
  {
    named: /^(?!.*(change|loss|difference)).*$/,
    applies: (q) =>
      q.dimension === MASS || q.dimension === VOLUME || q.dimension === AREA || q.dimension === RESISTANCE,
    least: 0,
    says: "This kind of quantity is never below zero.",
  },
  {
    named: /\b(key-off|key off|parasitic) draw\b/,
    applies: of(CURRENT),
    most: 30,
    says: "A draw with the key off is far smaller (common practice, no source).",
  },
];

/** Whether a bound is kept for readings of this name, or for what it does not rule out. */
const NAMED = BOUNDS.flatMap(({ named, most }) => (named && most !== undefined ? [named] : []));

/** Bounds that hold for every value, whatever it is called. */
const NATURE = BOUNDS.filter(({ named, applies }) => !named && applies !== isGauge);

const below = (name: string, range: Report["range"], bound: Bound): Report => ({
  range,
  message: `\`${name}\` comes out where no such value can be.`,
  advice: `${bound.says} Check the formula and what goes in.`,
});

export const rule: Rule = {
  id: "reading/implausible",
  severity: "warning",
  why: "A slipped digit or a wrong unit carries on into every result that rests on it.",
  *check({ evaluation, note }): Iterable<Report> {
    const higherVoltage = evaluation.scope.byKey.has("system voltage");
    const bounded = evaluation.names.that(NAMED, (key) => NAMED.some((name) => name.test(key)));
    // Values above zero can only cross an upper bound, and all of those go by the name.
    const suspects = evaluation.all.filter(
      ({ definition: { body, key }, result }) =>
        body.kind === "line" && result?.kind === "quantity" && (!isAboveZero(result) || bounded.has(key)),
    );
    for (const { definition, result } of suspects) {
      const { body } = definition;
      if (body.kind !== "line" || result?.kind !== "quantity") continue;
      const { syntax } = body;
      // A result below absolute zero is as wrong as a reading; what names promise is asked of readings alone.
      if (syntax.kind === "formula") {
        const bound = NATURE.find((one) => crossed(one, definition.key, result, higherVoltage));
        if (bound) yield below(definition.name, rangeOn(body.placed, syntax.formula.span), bound);
        continue;
      }
      if (syntax.kind !== "measured") continue;
      const broken = boundCrossed(definition.key, result, higherVoltage);
      if (!broken || syntax.value.kind !== "number") continue;
      const range = rangeOn(body.placed, syntax.value.span);
      yield {
        range,
        message: `\`${definition.name}\` cannot well be ${note.text.slice(range.from, range.to)}.`,
        advice: `${broken.says} Check the digits and the unit.`,
      };
    }
  },
};

const isAboveZero = ({ si, sampling }: Quantity): boolean =>
  sampling ? sampling.values.every((value) => value > 0) : si > 0;

const judged = new WeakMap<Quantity, { key: string; higherVoltage: boolean; broken: Bound | undefined }>();

/** Remembered by value: an editor asks about thousands of unchanged readings at every keystroke. */
function boundCrossed(key: string, quantity: Quantity, higherVoltage: boolean): Bound | undefined {
  const known = judged.get(quantity);
  if (known && known.key === key && known.higherVoltage === higherVoltage) return known.broken;
  const broken = BOUNDS.find((bound) => crossed(bound, key, quantity, higherVoltage));
  judged.set(quantity, { key, higherVoltage, broken });
  return broken;
}

function crossed(bound: Bound, key: string, quantity: Quantity, higherVoltage: boolean): boolean {
  if (!bound.applies(quantity) || (bound.named && !bound.named.test(key))) return false;
  // A note that states its system voltage has said what it works on.
  if (bound.named === LOW_VOLTAGE && higherVoltage) return false;
  const values = quantity.sampling?.values ?? [quantity.si];
  return values.some(
    (v) => (bound.least !== undefined && v < bound.least) || (bound.most !== undefined && v > bound.most),
  );
}

export const page: RulePage = {
  title: "A value that can hardly be",
  means:
    "A reading lies outside what its quantity can be, as a humidity over 100 % or 140 V on a 12 V system.",
  mend: "Check the digits and the unit against the instrument.",
  source: "Physical bounds by definition; the others are common practice, no source, and marked so.",
  breaks: { note: "```readings\nbay humidity: 610 %\n```\n" },
  keeps: { note: "```readings\nbay humidity: 61.0 %\n```\n" },
};
