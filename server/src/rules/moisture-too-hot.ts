import { heldAgainstDefaults } from "./default-limits.ts";
import { shownIn } from "./limited-values.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "moisture/too-hot",
  severity: "error",
  why: "Too much heat warps lenses, softens bonds and drives water into the electronics; and no drying temperature is published for an assembled lamp, so this stays on the cautious side.",
  *check(subject): Iterable<Report> {
    for (const { value, verdict, bound, force, limit, raisedOver } of heldAgainstDefaults(
      subject,
      "moisture/too-hot",
    )) {
      const shown = shownIn(value.si, value.unit);
      if (raisedOver) {
        yield {
          range: value.range,
          severity: "info",
          message: `${shown} is more than the usual ${shownIn(raisedOver.bound, value.unit)} for ${limit.assembly}; the note's own limit allows it.`,
          advice: `The note names its source: ${force.source}. Make sure that it is the maker's figure for this very part.`,
        };
        continue;
      }
      if (verdict === "inside" || bound === undefined) continue;
      // The note's own limit on a reading is reported where it stands.
      if (force.whose === "note" && value.kind === "reading") continue;
      const whose =
        force.whose === "note"
          ? "the limit of this note"
          : force.whose === "shop"
            ? "the shop's limit"
            : `the usual limit for ${limit.assembly}`;
      yield {
        range: value.range,
        severity: verdict,
        message: `${shown} is above ${whose}, ${shownIn(bound, value.unit)}.`,
        advice: `Dry cooler and longer, with the vents open. If the maker allows more, write a limit for \`drying temperature\` with its source.${force.source === "" ? "" : ` The figure is from: ${force.source}.`}`,
      };
    }
  },
};

const head = (steps: string, limits = "") =>
  `---\njob: example\nprocedure: lamp-moisture\n---\n${limits}\n\`\`\`steps\n2031-03-04\n08:30  assess: droplets\n08:40  isolate power: key off\n08:45  open\n${steps}\n\`\`\`\n`;

export const page: RulePage = {
  title: "Drying too hot",
  means:
    "A drying temperature, read or written in a step's remark, is over what the part should see: a warning over the lower limit, an error over the upper one. The note's own limit goes before the shop's, and that before the built-in one; a higher limit in the note counts only with its source.",
  mend: "Dry at a lower temperature for longer, or write the maker's limit with its source into a limits block.",
  source:
    "60 °C and 80 °C for warm air on a plastic lens are common practice, no source. Drying temperatures for raw plastic pellets are not for assembled lamps.",
  breaks: { note: head("08:50  dry: heat gun 85 degC until 09:30") },
  keeps: { note: head("08:50  dry: fan and warm air 42 degC until 11:40\n12:10  inspect: none") },
};
