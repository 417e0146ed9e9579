import { inWords, shownUnit } from "../analysis/showing.ts";
import { POWER } from "../units/dimension.ts";
import { fromSI } from "../units/unit.ts";
import { ask } from "./ask.ts";
import { type ElectricalReading, feeds, loadsOf, ratingsOf } from "./loads.ts";
import { type Report, type Rule, type RulePage, rangeOn, type Subject } from "./rule.ts";
import { greatestOf } from "./taken-readings.ts";

export const rule: Rule = {
  id: "electrical/supply-overload",
  severity: "error",
  why: "An overloaded supply sags or shuts down in the middle of a test; an overloaded wire gets hot before its fuse goes.",
  *check(subject): Iterable<Report> {
    const ratings = ratingsOf(subject);
    if (ratings.length === 0) return;
    for (const load of loadsOf(subject)) {
      let over: { rating: ElectricalReading; drawn: number } | undefined;
      for (const rating of ratings) {
        if (rating.evaluated === load.evaluated || !feeds(rating, load)) continue;
        const drawn = drawnIn(rating, load, subject);
        if (drawn === undefined || !(drawn > rating.quantity.si * (1 + 1e-12))) continue;
        if (over && over.rating.quantity.si <= rating.quantity.si) continue;
        over = { rating, drawn };
      }
      if (over) yield report(over.rating, over.drawn, load);
    }
  },
};

/** What the load draws, in the rating's kind of quantity; amperes become watts through the supply's voltage. */
function drawnIn(rating: ElectricalReading, load: ElectricalReading, subject: Subject): number | undefined {
  const greatest = greatestOf(load.quantity.sampling?.values ?? [load.quantity.si]);
  if (rating.quantity.dimension === load.quantity.dimension) return greatest;
  const voltage = ask("supply voltage", subject, load.evaluated.definition.block.label);
  if (voltage?.kind !== "quantity" || !(voltage.si > 0)) return undefined;
  return rating.quantity.dimension === POWER ? greatest * voltage.si : greatest / voltage.si;
}

function report(rating: ElectricalReading, drawn: number, load: ElectricalReading): Report {
  const unit = shownUnit(rating.quantity);
  const shown = (si: number) => inWords(unit ? fromSI(si, unit) : si, null, unit?.spelling ?? "");
  const { definition } = load.evaluated;
  const given = rating.evaluated.definition;
  const { body } = definition;
  const span =
    body.kind === "line" && body.syntax.kind === "measured" ? body.syntax.value.span : definition.nameSpan;
  return {
    range: rangeOn(body.placed, span),
    message: `\`${definition.name}\` takes ${shown(drawn)}, more than the ${shown(rating.quantity.si)} of \`${given.name}\`.`,
    advice:
      "Switch it off. Use a supply that gives more, with wire and fuse to suit it; never a bigger fuse on the same wire.",
    related: [{ range: rangeOn(given.body.placed, given.nameSpan), message: "What the supply gives." }],
  };
}

export const page: RulePage = {
  title: "More than the supply gives",
  means:
    "A current or power that the note reads (`supply current`, `lamp current`, `heater power`) is more than what its supply or fuse gives (`fuse`, `lamp fuse`, `supply rating`). A rating without a name of its own counts for the supply as a whole; of several readings the greatest counts. A power is held against a rating in amperes, and the other way round, where the note has `supply voltage`.",
  mend: "Take a stronger supply with wire and fuse to suit, or draw less.",
  breaks: { note: "```readings\nsupply current: 9.1, 9.3, 9.2 A\nfuse: 7.5 A\n```\n" },
  keeps: { note: "```readings\nsupply current: 9.1, 9.3, 9.2 A\nfuse: 15 A\n```\n" },
};
