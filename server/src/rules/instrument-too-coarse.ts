import type { Evaluated } from "../analysis/evaluation.ts";
import { inWords } from "../analysis/showing.ts";
import { limitOfError } from "../shop/shop.ts";
import { boundsInForce } from "./default-limits.ts";
import { valueBeyond } from "./instrument-out-of-range.ts";
import { valuesUnder } from "./limited-values.ts";
import type { Report, Rule, RulePage, Subject } from "./rule.ts";
import { canRead, greatestOf, type TakenReading, takenReadings } from "./taken-readings.ts";

/** Share of what is asked that an instrument's error may be: above the first a warning, above the second an error. */
const COARSE = 1 / 10;
const USELESS = 1 / 3;

export const rule: Rule = {
  id: "instrument/too-coarse",
  severity: "warning",
  why: "When the instrument's own error is a large part of what is asked, its reading decides nothing.",
  *check(subject): Iterable<Report> {
    let served: Served | undefined;
    for (const reading of takenReadings(subject)) {
      const { instrument, quantity, line } = reading;
      if (!instrument || !canRead(instrument, quantity)) continue;
      // A share of degrees Celsius means nothing; and `±` says how good the reading is without the instrument.
      if (instrument.unit.scale === "point" || quantity.scale === "point" || line.tolerance) continue;
      if (valueBeyond(reading, instrument) !== undefined) continue;
      const size = greatestOf(reading.values.map(Math.abs));
      const error = limitOfError(instrument, size) ?? instrument.resolution;
      served ??= limitsServed(subject);
      const limit = limitServed(reading, served);
      if (limit === undefined && nearZero(reading, size)) continue;
      const asked = limit ?? size;
      const share = error / asked;
      if (!(share > COARSE * (1 + 1e-9))) continue;
      const { unit } = reading;
      const shown = (si: number) => inWords(si / Math.abs(unit.factor), null, unit.spelling);
      const grave = share > USELESS * (1 + 1e-9);
      yield {
        range: reading.viaRange,
        severity: grave ? "error" : "warning",
        message: `\`${instrument.id}\` may be off by ${shown(error)}, ${grave ? "more than a third" : "more than a tenth"} of ${limit !== undefined ? `the limit of ${shown(asked)}` : `the ${shown(asked)} read`}.`,
        advice: `Read it again with an instrument good to ${shown(asked * COARSE)} or better.${finer(subject, reading, asked)}`,
      };
    }
  },
};

/** Sizes of the limits that readings are held to, gathered once for all readings. */
interface Served {
  /** By the name in the note's limits. */
  readonly named: ReadonlyMap<string, number>;
  /** The shop's or the procedure's, by the reading itself. */
  readonly usual: ReadonlyMap<Evaluated, number>;
}

function limitsServed(subject: Subject): Served {
  const named = new Map<string, number>();
  for (const { condition, left, right } of subject.limits.outcomes) {
    if (condition.kind !== "binary" || !left || !right) continue;
    for (const [node, other] of [
      [condition.left, right],
      [condition.right, left],
    ] as const) {
      if (node.kind !== "name" || other.si === 0) continue;
      keepLeast(named, node.name.key, Math.abs(other.si));
    }
  }
  const usual = new Map<Evaluated, number>();
  for (const limit of subject.procedure?.limits ?? []) {
    for (const value of valuesUnder(limit, subject)) {
      if (!value.evaluated) continue;
      for (const bound of boundsInForce(limit, value, subject)) {
        if (bound !== 0) keepLeast(usual, value.evaluated, Math.abs(bound));
      }
    }
  }
  return { named, usual };
}

function keepLeast<K>(least: Map<K, number>, key: K, size: number): void {
  least.set(key, Math.min(least.get(key) ?? Number.POSITIVE_INFINITY, size));
}

/** The smallest limit that the reading is held to: the note's, else the shop's or the procedure's. */
function limitServed({ key, evaluated }: TakenReading, { named, usual }: Served): number | undefined {
  let least: number | undefined;
  // `retest test pressure` is a `test pressure` too: every end of the name that starts with a word counts.
  for (let from = 0; ; ) {
    const size = named.get(from === 0 ? key : key.slice(from));
    if (size !== undefined) least = Math.min(least ?? size, size);
    const blank = key.indexOf(" ", from);
    if (blank < 0) break;
    from = blank + 1;
  }
  return least ?? usual.get(evaluated);
}

/**
 * Readings that are to show nothing (no flow, no current) are within two of their last decimals of zero; no
 * instrument is good to a tenth of nothing. A whole number is no such reading: `1 psi` claims one psi.
 */
function nearZero({ value }: TakenReading, size: number): boolean {
  if (size === 0) return true;
  return value.numbers.every(
    (number) => number.step < 1 && Math.abs(number.value) <= 2 * number.step * (1 + 1e-9),
  );
}

/** Names an instrument of the shop that would do. */
function finer(subject: Subject, reading: TakenReading, asked: number): string {
  const size = greatestOf(reading.values.map(Math.abs));
  for (const one of subject.shop.instruments.values()) {
    if (one === reading.instrument || !canRead(one, reading.quantity)) continue;
    if (reading.values.some((v) => v < one.low || v > one.high)) continue;
    const error = limitOfError(one, size);
    if (error !== undefined && error <= asked * COARSE) return ` \`${one.id}\` would do.`;
  }
  return "";
}

const SHOP =
  "instruments:\n  P1:\n    description: low-pressure gauge\n    measures: pressure\n    range: 0 to 2 psi\n    resolution: 0.01 psi\n    accuracy: 1 % of full scale\n  P5:\n    description: gauge on the air line\n    measures: pressure\n    range: 0 to 250 psi\n    resolution: 1 psi\n    accuracy: 2 % of full scale\n";

export const page: RulePage = {
  title: "An instrument too coarse for the question",
  means:
    "The instrument's limit of error is over a tenth (a warning) or over a third (an error) of the limit that the reading serves: the note's own, else the shop's or the procedure's. Where no limit is known, the value read takes its place, save for readings that are to show nothing. Temperatures on a scale are left out, since a share of degrees means nothing; there the uncertainty decides.",
  mend: "Measure with a finer instrument. A gauge is best in the upper half of its range.",
  source:
    "Resolution at most a tenth, accuracy at most a quarter of what is to be shown: ASTM E2930-13(2021), 5.1. The thresholds here, a tenth and a third, are common practice, no source.",
  breaks: {
    shop: SHOP,
    note: "```readings\ntest pressure: 1 psi via P5\n```\n",
  },
  keeps: {
    shop: SHOP,
    note: "```readings\ntest pressure: 0.80 psi via P1\nflow: 0.00 L/min\n```\n",
  },
};
