import { keyUnder } from "../analysis/scope.ts";
import { type Procedure, plainWords } from "../procedures/procedure.ts";
import type { ExpectedReading } from "../procedures/procedure-schema.ts";
import { eventInWords, rangeOfEvent, type StepEvent } from "../sequence/events.ts";
import { mediumNamed } from "../sequence/medium.ts";
import type { Dimension } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "reading/missing",
  severity: "warning",
  why: "Without this reading nobody can tell later whether the test was safe or what it showed.",
  *check({ note, procedure, evaluation, history }): Iterable<Report> {
    if (!procedure) return;
    const required = procedure.readings.filter((expected) => expected.required);
    if (required.length === 0) return;
    const { byKey } = evaluation.scope;
    const labels = [
      ...new Set(note.blocks.filter((b) => b.kind === "readings" && b.label).map((b) => b.label)),
    ];
    const defines = (name: string) =>
      byKey.has(name) || labels.some((label) => byKey.has(keyUnder(label, name)));
    for (const expected of required) {
      // A step still to do asks for nothing yet.
      const when = expected.when === undefined ? undefined : plainWords(expected.when);
      const steps = history?.events.done.filter(({ step }) => plainWords(step.name) === when) ?? [];
      const first = steps[0];
      if (when !== undefined && !first) continue;
      if (namesOf(expected).some(defines)) continue;
      if (steps.some((event) => givenIn(event, expected, procedure))) continue;
      const at = first
        ? rangeOfEvent(first)
        : (note.frontMatter.at.get("procedure") ?? note.frontMatter.range);
      yield {
        range: at,
        message: first
          ? `${eventInWords(first)} asks for the reading \`${expected.name}\`, and the note has none.`
          : `The note has no reading \`${expected.name}\`.`,
        advice:
          `${expected.why} Add it to a readings block, as in \`${expected.name}: … ${expected.unit ?? ""}\`.`.replace(
            / `\.$/,
            "`.",
          ),
      };
    }
  },
};

const namesOf = ({ name, aliases = [] }: ExpectedReading): readonly string[] =>
  [name, ...aliases].map((one) => one.toLowerCase());

/** Whether the step's own line gives the reading, as `pressurize: smoke, 0.5 psi` gives the test pressure. */
function givenIn(event: StepEvent, expected: ExpectedReading, procedure: Procedure): boolean {
  if (expected.unit === null) {
    return expected.name === "medium" && mediumNamed(event.remark, { procedure }) !== "unsaid";
  }
  const dimension = dimensionOf(expected.unit);
  const fits = event.syntax.quantities.some(({ unit }) => dimensionOf(unit.text) === dimension);
  return dimension !== undefined && fits && meansIt(event.step.name, expected, procedure);
}

/** Of several readings of one kind a step's line gives the one that its limit is about. */
function meansIt(step: string, expected: ExpectedReading, procedure: Procedure): boolean {
  const others = procedure.readings.some(
    (one) =>
      one !== expected &&
      one.when === step &&
      one.unit !== null &&
      expected.unit !== null &&
      dimensionOf(one.unit) === dimensionOf(expected.unit),
  );
  if (!others) return true;
  const names = namesOf(expected);
  return procedure.limits.some(
    ({ of }) => of.steps.includes(step) && of.readings.some((reading) => names.includes(reading)),
  );
}

function dimensionOf(unit: string): Dimension | undefined {
  const reading = readUnit(unit);
  return reading.ok ? reading.unit.dimension : undefined;
}

export const page: RulePage = {
  title: "A reading that the procedure expects",
  means:
    "A step was done that a careful technician always backs with a reading, and neither the step's own line nor a reading of that name gives it.",
  mend: "Add the reading under the name that the procedure uses, or one of its other names, or the figure into the step's remark.",
  breaks: {
    note: "---\njob: example\nprocedure: lamp-moisture\n---\n\n```steps\n2031-03-04\n08:50  isolate power: key off\n08:55  block vents\n09:10  pressurize: smoke\n```\n",
  },
  keeps: {
    note: "---\njob: example\nprocedure: lamp-moisture\n---\n\n```readings\ntest pressure: 0.80 psi\n```\n\n```limits\ntest pressure <= 1 psi\n```\n\n```steps\n2031-03-04\n08:50  isolate power: key off\n08:55  block vents\n09:10  pressurize: smoke, 0.8 psi\n```\n",
  },
};
