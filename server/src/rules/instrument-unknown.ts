import { nearest } from "../text/nearest.ts";
import { describeDimension } from "../units/dimension-name.ts";
import { listed, type Report, type Rule, type RulePage, replace } from "./rule.ts";
import { canRead, takenReadings } from "./taken-readings.ts";

export const rule: Rule = {
  id: "instrument/unknown",
  severity: "warning",
  why: "Without the instrument's accuracy the uncertainty shown is only that of the last digit, and so too small.",
  *check(subject): Iterable<Report> {
    const { instruments, present } = subject.shop;
    // Notes work without a shop file; then no instrument is known and none is asked for.
    if (!present) return;
    for (const { via, viaRange, instrument, quantity } of takenReadings(subject)) {
      if (instrument && canRead(instrument, quantity)) continue;
      const fitting = [...instruments.values()].filter((one) => canRead(one, quantity));
      const offered = instrument
        ? fitting.slice(0, 5).map((one) => one.id)
        : likelyIds(
            via.text,
            fitting.map((one) => one.id),
          );
      const fixes = offered.map((id) => replace(`Write ${id}`, viaRange, id, "choice"));
      if (instrument) {
        const kind = describeDimension(quantity.dimension) ?? "this kind of quantity";
        const zero = instrument.measures === quantity.dimension;
        yield {
          range: viaRange,
          message: zero
            ? `\`${instrument.id}\` ${instrument.unit.scale === "absolute" ? "reads absolute pressure, and this is a gauge pressure" : "reads gauge pressure, and this is an absolute one"}.`
            : `\`${instrument.id}\` cannot have read ${kind}: the shop file has it measure ${describeDimension(instrument.measures) ?? "something else"}.`,
          advice:
            offered.length > 0
              ? `Name the instrument that was used. ${listed(offered)} would fit.`
              : "Name the instrument that was used, or correct what the shop file says of this one.",
          fixes,
        };
        continue;
      }
      yield {
        range: viaRange,
        message: `The shop file has no instrument \`${via.text}\`.`,
        advice:
          offered.length > 0
            ? `Did you mean ${listed(offered)}? If not, add \`${via.text}\` under \`instruments\` in the shop file.`
            : `Add \`${via.text}\` under \`instruments\` in the shop file, or write \`±\` with the accuracy behind the value.`,
        fixes,
      };
    }
  },
};

/**
 * Ids are short, so likeness of letters alone says little: offered are instruments that can have read this
 * kind of quantity, first those that are spelt nearly so, then those with the same first letter.
 */
function likelyIds(id: string, fitting: readonly string[]): readonly string[] {
  const initial = id.charAt(0).toLowerCase();
  const alike = fitting.filter((one) => one.charAt(0).toLowerCase() === initial);
  return [...new Set([...nearest(id, fitting, 3), ...alike])].slice(0, 3);
}

const SHOP =
  "instruments:\n  P1:\n    measures: pressure\n    range: 0 to 2 psi\n    resolution: 0.01 psi\n    accuracy: 1 % of full scale\n";

export const page: RulePage = {
  title: "An instrument that the shop file does not have",
  means:
    "`via` names an instrument that the shop file lacks, or one that measures something else. Gauge and absolute pressure are different things here. Notes without a shop file are left alone.",
  mend: "Correct the name, or describe the instrument in the shop file.",
  fix: "Writes the name of an instrument that the shop file has.",
  breaks: { shop: SHOP, note: "```readings\ntest pressure: 0.80 psi via P7\n```\n" },
  keeps: { shop: SHOP, note: "```readings\ntest pressure: 0.80 psi via P1\n```\n" },
};
