import { inWords } from "../analysis/showing.ts";
import type { Instrument } from "../shop/shop.ts";
import { fromSI } from "../units/unit.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";
import { canRead, type TakenReading, takenReadings } from "./taken-readings.ts";

export const rule: Rule = {
  id: "instrument/out-of-range",
  severity: "error",
  why: "Beyond its range an instrument may show anything, and a gauge driven past its end may be damaged.",
  *check(subject): Iterable<Report> {
    for (const reading of takenReadings(subject)) {
      const { instrument, value, placed, name } = reading;
      if (!instrument || !canRead(instrument, reading.quantity)) continue;
      const beyond = valueBeyond(reading, instrument);
      if (beyond === undefined) continue;
      const { unit } = instrument;
      const shown = (si: number) => inWords(fromSI(si, unit), null, unit.spelling);
      const signed = instrument.low === unit.offset && beyond < instrument.low;
      yield {
        range: rangeOn(placed, value.span),
        message: `\`${name}\` is ${shown(beyond)}, beyond the range of \`${instrument.id}\`, ${shown(instrument.low)} to ${shown(instrument.high)}.`,
        advice: signed
          ? "Check the sign and the unit. If the instrument reads both ways, give its range in the shop file with both ends."
          : "Check the number and the unit, or measure again with an instrument whose range reaches so far.",
      };
    }
  },
};

/** The first value that lies outside the instrument's range; equal but for rounding still lies inside. */
export function valueBeyond({ values }: TakenReading, instrument: Instrument): number | undefined {
  const room = 1e-9 * (instrument.high - instrument.low);
  return values.find((v) => v < instrument.low - room || v > instrument.high + room);
}

const SHOP =
  "instruments:\n  P1:\n    measures: pressure\n    range: 0 to 2 psi\n    resolution: 0.01 psi\n    accuracy: 1 % of full scale\n";

export const page: RulePage = {
  title: "A value beyond the instrument's range",
  means: "The shop file gives the instrument a range, and the value read through it lies outside.",
  mend: "Check number, sign and unit. Else measure again with an instrument that reaches so far, and have the first one looked at.",
  breaks: { shop: SHOP, note: "```readings\ntest pressure: 2.40 psi via P1\n```\n" },
  keeps: { shop: SHOP, note: "```readings\ntest pressure: 0.80 psi via P1\n```\n" },
};
