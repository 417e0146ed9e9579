import type { DefaultLimit } from "../procedures/procedure-schema.ts";
import { rangeOfEvent } from "../sequence/events.ts";
import { isNamed, readingsNamed } from "../sequence/grounds.ts";
import { AREA, PRESSURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { fromSI, toSI, type Unit } from "../units/unit.ts";
import { decide, heldAgainstDefaults, type LimitedOutcome } from "./default-limits.ts";
import { shownIn } from "./limited-values.ts";
import { type Report, type Rule, type RulePage, rangeOn, type Subject } from "./rule.ts";
import { type LimitInForce, lowest, standingLimit } from "./standing-limit.ts";
import { upperLimits } from "./upper-limits.ts";

/** Standard acceleration of free fall, m/s² (BIPM, 3rd CGPM 1901). */
const STANDARD_GRAVITY = 9.80665;

export const rule: Rule = {
  id: "pressure/over-limit",
  severity: "error",
  why: "Low pressure on a large area is a great force: lenses, covers, tanks and seals let go without warning, and hurt whoever stands there.",
  *check(subject): Iterable<Report> {
    for (const outcome of heldAgainstDefaults(subject, "pressure/over-limit"))
      yield* reportOf(outcome, subject);
    yield* countedAsPressurizing(subject);
    yield* raisedLimits(subject);
  },
};

function* reportOf(outcome: LimitedOutcome, subject: Subject, as = ""): Iterable<Report> {
  const { value, limit, raisedOver } = outcome;
  // A limit that the note raises is told about where it stands.
  if (raisedOver) return;
  let { force, bound, verdict } = outcome;
  if (force.whose === "note" && value.kind === "reading") {
    // Beyond the note's own limit is `limit/exceeded`; here it counts that it is beyond the usual one as well.
    if (!outcome.beyondOther) return;
    force = outcome.beyondOther;
    ({ bound, verdict } = outcome.beyondOther);
  }
  if (verdict === "inside" || bound === undefined) return;
  const weight = forceInWords(value.si, limit, subject);
  yield {
    range: value.range,
    severity: verdict,
    message: `${shownIn(value.si, value.unit)}${as} is above ${whose(force, limit)}, ${boundInWords(bound, value.unit, limit, verdict, force)}.${weight}`,
    advice: `${verdict === "error" ? "Let the pressure off and stand clear. " : ""}${
      limit.raisable
        ? "Stay below it. If the maker allows more, write that limit into a limits block with its source."
        : "Stay below it; this limit cannot be raised by the note."
    } The figure is from: ${force.source === "" ? "the note" : force.source}.`,
  };
}

/** In the value's unit, with "lowest marking" where it is a reading of the note, or as the limit itself is written. */
function boundInWords(
  si: number,
  unit: Unit,
  limit: DefaultLimit,
  verdict: "warning" | "error",
  { whose: owner }: LimitInForce,
): string {
  const shown = shownIn(si, unit);
  const bound = verdict === "error" ? limit.errorAbove : limit.warnAbove;
  if (typeof bound === "object") return `${shown} (\`${bound.reading}\`)`;
  const isBuiltIn = owner === "built-in" && bound !== undefined;
  if (!isBuiltIn || bound.endsWith(` ${unit.spelling}`)) return shown;
  const rough = fromSI(si, unit).toPrecision(3);
  return `${bound} (${Number(rough)} ${unit.spelling})`;
}

const whose = (force: LimitInForce, limit: DefaultLimit): string =>
  force.whose === "note"
    ? "the limit of this note"
    : force.whose === "shop"
      ? `the shop's limit for ${limit.assembly}`
      : `the usual limit for ${limit.assembly}`;

/** What the pressure does to the part, where its area is known. */
function forceInWords(pressure: number, limit: DefaultLimit, { history }: Subject): string {
  if (!history) return "";
  for (const name of limit.areas ?? []) {
    for (const { definition, result } of readingsNamed(name, history.grounds)) {
      if (result?.kind !== "quantity" || result.dimension !== AREA) continue;
      const newtons = pressure * result.si;
      const kilograms = newtons / STANDARD_GRAVITY;
      return ` On \`${definition.name}\` that is ${rounded(newtons)} N, the weight of ${rounded(kilograms)} kg.`;
    }
  }
  return "";
}

const rounded = (value: number): string => String(Number(value.toPrecision(2)));

/** Air blown into something closed is pressure in it. */
function* countedAsPressurizing(subject: Subject): Iterable<Report> {
  for (const { event, as } of subject.history?.counted ?? []) {
    for (const limit of subject.procedure?.limits ?? []) {
      if (limit.rule !== "pressure/over-limit" || !limit.of.steps.includes(as.step)) continue;
      let highest: Parameters<typeof decide>[1] | undefined;
      for (const { number, unit, span } of event.syntax.quantities) {
        const reading = readUnit(unit.text, subject.shop.units);
        if (!reading.ok || reading.unit.dimension !== PRESSURE) continue;
        const si = toSI(number.value, reading.unit);
        if (highest && highest.si >= si) continue;
        const range = rangeOn(event.placed, span);
        highest = { name: event.step.name, kind: "step", si, unit: reading.unit, range };
      }
      if (!highest) {
        yield {
          range: rangeOfEvent(event),
          severity: "warning",
          message: `\`${event.syntax.step.text}\` counts as \`${as.step}\` here, and says no pressure.`,
          advice: `${as.why} Write the pressure into the remark, or open it up first.`,
        };
        continue;
      }
      const outcome = decide(limit, highest, subject);
      if (outcome) yield* reportOf(outcome, subject, `, which counts as \`${as.step}\` here,`);
    }
  }
}

/** Limits of the note that lie above the usual one. */
function* raisedLimits(subject: Subject): Iterable<Report> {
  for (const limit of subject.procedure?.limits ?? []) {
    if (limit.rule !== "pressure/over-limit") continue;
    const standing = standingLimit(limit, subject);
    if (!standing) continue;
    for (const upper of upperLimits(subject)) {
      const { bound, placed, source } = upper;
      const usual = lowest(standing);
      if (!isNamed(upper.name, limit.of.readings) || !bound.unit || bound.dimension !== PRESSURE) continue;
      if (bound.scale === "absolute" || bound.si <= usual * (1 + 1e-12)) continue;
      const range = rangeOn(placed, placed.syntax.condition.span);
      const above = `${shownIn(bound.si, bound.unit)} is above ${whose(standing, limit)}, ${shownIn(usual, bound.unit)}`;
      if (!limit.raisable) {
        yield {
          range,
          message: `${above}, which a note cannot raise.`,
          advice: `Work below it. The figure is from: ${standing.source}.`,
        };
      } else if (source === "") {
        yield {
          range,
          severity: "warning",
          message: `${above}, and names no source; so the usual one stays in force.`,
          advice:
            "Write behind it where it is from, as in `source: service information for this part`, or lower it.",
        };
      } else {
        yield {
          range,
          severity: "info",
          message: `${above}; it counts, because it names its source.`,
          advice: `Make sure that this is the maker's figure for this very part: ${source}.`,
        };
      }
    }
  }
}

const lamp = (pressure: string, limits = "") =>
  `---\njob: example\nprocedure: lamp-moisture\n---\n\n\`\`\`readings\ntest pressure: ${pressure}\nlens area: 310 cm2\n\`\`\`\n${limits}`;

export const page: RulePage = {
  title: "More pressure than the part should see",
  means:
    "A test pressure, read or written in a step's remark, is above the limit of the assembly: a warning over the lower figure, an error over the upper one. Of several pressures in a remark the highest counts. The note's own limit goes before the shop's, and that before the built-in one; a limit in the note above the usual one counts only with its source, and is then listed as information. For fuel-vapour systems it cannot be raised. Where the area is known, the finding says the force on the part.",
  mend: "Test with less pressure, or write the maker's limit with its source into a limits block.",
  source:
    "Fuel-vapour systems: US EPA evaporative test guidance. The other figures are common practice, no source; the maker's service information goes before them.",
  breaks: { note: lamp("2.3 psi") },
  keeps: { note: lamp("0.8 psi") },
};
