import type { StepLine, StepsLine } from "../language/syntax.ts";
import type { Range } from "../note/note.ts";
import { findStep, type Procedure } from "../procedures/procedure.ts";
import { PRESSURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { listed, type Report, type Rule, type RulePage, rangeOn, replace, type Subject } from "./rule.ts";

const wordsOfSteps = (trees: readonly StepsLine[]): readonly string[] => [
  ...new Set(trees.flatMap((line) => (line.kind === "step" ? [line.step.text] : []))),
];

export const rule: Rule = {
  id: "note/unknown-step",
  severity: "warning",
  why: "A step that is not understood counts for nothing: what it needs, makes and undoes is not followed.",
  *check({ note, procedure, shop }): Iterable<Report> {
    // Without a procedure there are no steps to know.
    if (!procedure) return;
    for (const block of note.blocks) {
      if (block.kind !== "steps") continue;
      if (block.content.once(wordsOfSteps).every((words) => findStep(procedure, words).ok)) continue;
      for (const placed of block.lines) {
        const { syntax } = placed;
        if (syntax.kind !== "step") continue;
        const found = findStep(procedure, syntax.step.text);
        if (found.ok) continue;
        const range = rangeOn(placed, syntax.step.span);
        const early = withEarlyUntil(syntax, procedure);
        if (early) {
          const whole = rangeOn(placed, { from: syntax.step.span.from, to: syntax.remark?.span.to ?? 0 });
          yield {
            range,
            message: `The time after \`until\` cuts the step \`${early.step}\` short.`,
            advice: `Put it at the end of the line, as in \`${early.line}\`.`,
            fixes: [replace(`Write ${early.line}`, whole, early.line, "choice")],
          };
          continue;
        }
        // With a remark the words behind the step say where, unless they are a slip of another step's.
        const isBare = syntax.remark === undefined;
        const known = isBare || found.nearest.length === 0 ? knownPart(syntax, procedure) : undefined;
        if (known !== undefined) {
          yield isBare
            ? withoutColon(known, syntax.step.text, range)
            : withoutBrackets(known, syntax.step.text, range);
          continue;
        }
        const near = found.nearest.length > 0 ? found.nearest : longerSteps(syntax.step.text, procedure);
        const unwatched = namesPressure(syntax, shop);
        yield {
          range,
          // With a pressure in it a slip of the pen lets that pressure pass every limit.
          ...(unwatched && near.length > 0 ? { severity: "error" } : {}),
          message: `The procedure \`${procedure.id}\` knows no step \`${syntax.step.text}\`${unwatched ? ", so the pressure in it is held to no limit" : ""}.`,
          advice:
            near.length > 0
              ? `Did you mean ${listed(near)}? Put the rest behind a colon as a remark.`
              : "Write it as a remark behind a step that is known, as in `note: …`.",
          fixes: near.map((name) => replace(`Write ${name}`, range, name, "choice")),
        };
      }
    }
  },
};

function namesPressure({ quantities }: StepLine, { units }: Subject["shop"]): boolean {
  return quantities.some(({ unit }) => {
    const reading = readUnit(unit.text, units);
    return reading.ok && reading.unit.dimension === PRESSURE;
  });
}

/** Steps that the words are only the beginning of, as `block` of `block vents`. */
const longerSteps = (written: string, { steps }: Procedure): readonly string[] =>
  steps.flatMap(({ name }) => (name.startsWith(`${written.toLowerCase()} `) ? [name] : [])).slice(0, 3);

/** `dry until 12:00: warm air` has its remark behind the first colon, which is that of the time. */
function withEarlyUntil(
  { step, place, remark }: StepLine,
  procedure: Procedure,
): { readonly step: string; readonly line: string } | undefined {
  const head = /^(.+?)[ ]until[ ](\d{1,2})$/i.exec(step.text);
  const tail = remark && /^(\d{2})(?:[ ]*[:,][ ]*(.*))?$/.exec(remark.text);
  if (!head || !tail || place) return undefined;
  const [, name = "", hour = ""] = head;
  if (!findStep(procedure, name).ok) return undefined;
  const said = tail[2] ? `: ${tail[2]}` : "";
  return { step: name, line: `${name}${said} until ${hour.padStart(2, "0")}:${tail[1]}` };
}

/** The longest beginning that is a step of its own, as `pump up` in `pump up to 1.2 bar`. */
function knownPart({ step, place }: StepLine, procedure: Procedure): string | undefined {
  // Before a place something else is wrong.
  if (place) return undefined;
  for (let end = step.text.lastIndexOf(" "); end > 0; end = step.text.lastIndexOf(" ", end - 1)) {
    const part = step.text.slice(0, end);
    if (findStep(procedure, part).ok) return part;
  }
  return undefined;
}

function withoutColon(part: string, written: string, range: Range): Report {
  const known = part.replace(/[.,;!]+$/, "");
  const rest = written.slice(part.length).replace(/^[-–.,;!\s]+/, "");
  const line = `${known}: ${rest}`;
  return {
    range,
    message: `A colon is missing behind \`${known}\`, so \`${written}\` is not read as that step.`,
    advice: `Write \`${line}\`: the step, a colon, and what is to be said of it.`,
    fixes: [replace(`Write ${line}`, range, line, "choice")],
  };
}

function withoutBrackets(known: string, written: string, range: Range): Report {
  const line = `${known} [${written.slice(known.length).trim()}]`;
  return {
    range,
    message: `\`${written}\` is no step, but \`${known}\` is one.`,
    advice: `Write \`${line}\`: the place stands in square brackets behind the step.`,
    fixes: [replace(`Write ${line}`, range, line, "choice")],
  };
}

export const page: RulePage = {
  title: "A step that the procedure does not know",
  means: "The words before the colon are neither a step of the note's procedure nor one of its other names.",
  mend: "Write the step in the procedure's words and put the rest into the remark. `note: …` takes anything.",
  fix: "Writes the nearest step, or the colon that is missing.",
  breaks: {
    note: "---\njob: example\nprocedure: lamp-moisture\n---\n\n```steps\n2031-03-04\n08:55  blokc vents: 2 of 2\n```\n",
  },
  keeps: {
    note: "---\njob: example\nprocedure: lamp-moisture\n---\n\n```steps\n2031-03-04\n08:55  block vents: 2 of 2\n```\n",
  },
};
