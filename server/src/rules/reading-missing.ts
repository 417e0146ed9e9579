import { keyUnder } from "../analysis/scope.ts";
import { findStep, plainWords } from "../procedures/procedure.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "reading/missing",
  severity: "warning",
  why: "Without this reading nobody can tell later whether the test was safe or what it showed.",
  *check({ note, procedure, evaluation }): Iterable<Report> {
    if (!procedure) return;
    const required = procedure.readings.filter((expected) => expected.required);
    if (required.length === 0) return;
    const steps = [...stepsDone(note, procedure)];
    const { byKey } = evaluation.scope;
    const labels = [
      ...new Set(note.blocks.filter((b) => b.kind === "readings" && b.label).map((b) => b.label)),
    ];
    const defines = (name: string) =>
      byKey.has(name) || labels.some((label) => byKey.has(keyUnder(label, name)));
    for (const expected of required) {
      const when = expected.when;
      const step =
        when === undefined ? undefined : steps.find((s) => plainWords(s.name) === plainWords(when));
      if (when !== undefined && !step) continue;
      const wanted = [expected.name, ...(expected.aliases ?? [])].map((name) => name.toLowerCase());
      if (wanted.some(defines)) continue;
      const at = step?.range ?? note.frontMatter.at.get("procedure") ?? note.frontMatter.range;
      yield {
        range: at,
        message: step
          ? `This step stands here, but the note has no reading \`${expected.name}\`.`
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

function* stepsDone(
  note: Parameters<Rule["check"]>[0]["note"],
  procedure: NonNullable<Parameters<Rule["check"]>[0]["procedure"]>,
): Iterable<{ name: string; range: { from: number; to: number } }> {
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const placed of block.lines) {
      const { syntax } = placed;
      // A step still to do asks for nothing yet.
      if (syntax.kind !== "step" || syntax.time.minutes === undefined) continue;
      const found = findStep(procedure, syntax.step.text);
      if (found.ok) yield { name: found.step.name, range: rangeOn(placed, syntax.step.span) };
    }
  }
}

export const page: RulePage = {
  title: "A reading that the procedure expects",
  means:
    "A step was done that a careful technician always backs with a reading, and the note has none of that name.",
  mend: "Add the reading under the name that the procedure uses, or one of its other names.",
  breaks: {
    note: "---\njob: example\nprocedure: lamp-moisture\n---\n\n```steps\n2031-03-04\n08:50  isolate power: key off\n08:55  block vents\n09:10  pressurize: smoke\n```\n",
  },
  keeps: {
    note: "---\njob: example\nprocedure: lamp-moisture\n---\n\n```readings\ntest pressure: 0.80 psi\n```\n\n```limits\ntest pressure <= 1 psi\n```\n\n```steps\n2031-03-04\n08:50  isolate power: key off\n08:55  block vents\n09:10  pressurize: smoke, 0.8 psi\n```\n",
  },
};
