import { listed, type Report, type Rule, type RulePage, rangeOn, replace, type Subject } from "./rule.ts";

export const rule: Rule = {
  id: "reading/undefined",
  severity: "error",
  why: "Without this value the formula has no result, and nothing that rests on it can be checked.",
  *check(subject): Iterable<Report> {
    for (const { problem, placed, evaluated } of subject.problems("reading/undefined")) {
      if (evaluated === undefined && limitsSteps(subject, problem.name)) continue;
      const range = rangeOn(placed, problem.span);
      const isFunction = problem.case === "function";
      if (problem.case === "shop formula") {
        yield {
          range,
          message: `The shop's formula \`${problem.name}\` has a mistake in the shop file, so it gives no value.`,
          advice: "Put it right there; the finding in the shop file says what is wrong.",
        };
        continue;
      }
      const product = isFunction ? undefined : productMeant(problem.name, subject);
      if (product) {
        yield {
          range,
          message: `Nothing in this note is called \`${problem.name}\`; an \`x\` between two names is part of a name.`,
          advice: "To multiply write `*`.",
          fixes: [replace(`Write ${product}`, range, product, "choice")],
        };
        continue;
      }
      const near = problem.nearest.length > 0 ? `Did you mean ${listed(problem.nearest)}?` : undefined;
      const otherwise = isFunction
        ? "Write a known function, or put `*` before the bracket if it was meant to multiply."
        : `Write a line \`${problem.name}: …\` with what was read.`;
      yield {
        range,
        message: isFunction
          ? `No function is called \`${problem.name}\`.`
          : `Nothing in this note is called \`${problem.name}\`.`,
        advice: IN_OTHER_WORDS.get(problem.name.toLowerCase()) ?? near ?? otherwise,
        fixes: problem.nearest.map((name) => replace(`Write ${name}`, range, name, "choice")),
      };
    }
  },
};

/** What other tools have a word for. */
const IN_OTHER_WORDS = new Map([
  ["sqrt", "Write a root as a power, as in `(a^2 + b^2)^0.5`."],
  ["pi", "Write the number, 3.14159."],
]);

/** `a x b` where both are names of the note. */
function productMeant(name: string, { evaluation }: Subject): string | undefined {
  const parts = name.split(/ [xX×] /);
  const areKnown = parts.length > 1 && parts.every((part) => evaluation.scope.byKey.has(part.toLowerCase()));
  return areKnown ? parts.join(" * ") : undefined;
}

/**
 * A limit may name what only the steps state, as `drying temperature` for the degrees in the remark of a `dry`
 * step; the limit is then held against the steps.
 */
function limitsSteps({ procedure }: Subject, name: string): boolean {
  const key = name.toLowerCase();
  return (
    procedure?.limits.some(
      ({ of }) => of.steps.length > 0 && of.readings.some((r) => r.toLowerCase() === key),
    ) ?? false
  );
}

export const page: RulePage = {
  title: "A name that stands for nothing",
  means: "A formula or limit uses a name (or a function) that the note does not define.",
  mend: "Write the name as it is defined, or add a line that defines it. It may stand before or after its use.",
  fix: "Writes the nearest name.",
  breaks: {
    note: "```readings\ntest pressure: 0.8 psi\nlens area: 310 cm2\nlens force = test presure * lens area\n```\n",
  },
  keeps: {
    note: "```readings\nlens force = test pressure * lens area\ntest pressure: 0.8 psi\nlens area: 310 cm2\n```\n",
  },
};
