import { valueOfLine } from "../analysis/evaluated-lines.ts";
import type { Evaluated } from "../analysis/evaluation.ts";
import type { Quantity } from "../analysis/quantity.ts";
import { resolve } from "../analysis/scope.ts";
import { show } from "../analysis/showing.ts";
import type { ReadingsLine } from "../language/syntax.ts";
import { linesThat } from "../note/block-content.ts";
import { pickedLines } from "../note/marked-lines.ts";
import { CHARGE, CURRENT, NONE, TIME } from "../units/dimension.ts";
import { ask } from "./ask.ts";
import { isWhole, loadsOf } from "./loads.ts";
import { type Report, type Rule, type RulePage, rangeOn, type Subject } from "./rule.ts";

/** Share of the charge to be left for starting the engine where the note names none. */
const USUAL_RESERVE = 0.6;
const TIMES = ["running time", "time on battery", "test time", "working time"];

export const rule: Rule = {
  id: "electrical/battery-budget",
  severity: "warning",
  why: "What runs from the vehicle's battery takes the charge that the engine needs to start, and a deep discharge ages the battery.",
  *check(subject): Iterable<Report> {
    const own = [...workedOut(subject)];
    if (own.length > 0) yield* own;
    else yield* budgeted(subject);
  },
};

const reserves = (trees: readonly ReadingsLine[]): readonly number[] =>
  linesThat(
    trees,
    (line) =>
      line.kind === "formula" && line.formula.kind === "call" && line.formula.name.key === "reserve left",
  );

/** The note's own `reserve left(…)`. */
function* workedOut(subject: Subject): Iterable<Report> {
  for (const { block, index } of pickedLines(subject.note, "readings", reserves)) {
    const evaluated = valueOfLine(block, index, subject.evaluation);
    if (evaluated?.result?.kind !== "quantity") continue;
    const reserve = reserveFor(block.label, subject);
    if (evaluated.result.si < reserve.share) yield report(evaluated, evaluated.result, reserve);
  }
}

/** What capacity, current and time come to, where the note reads all three. */
function* budgeted(subject: Subject): Iterable<Report> {
  if (!namesTime(subject) || !fromBattery(subject)) return;
  for (const load of loadsOf(subject)) {
    if (load.quantity.dimension !== CURRENT || !isWhole(load)) continue;
    const { definition } = load.evaluated;
    const { label } = definition.block;
    const capacity = find(["battery capacity"], CHARGE, label, subject);
    const time = find(TIMES, TIME, label, subject);
    if (!capacity || !time || isRunTime(time)) continue;
    const bare = load.label === "" ? definition.key : definition.key.slice(load.label.length + 1);
    const charge = find(["charge state", "battery charge"], NONE, label, subject);
    const left = ask(
      `reserve left(battery capacity, ${bare}, ${bareKey(time)}${charge ? `, charge: ${bareKey(charge)}` : ""})`,
      subject,
      label,
    );
    if (left?.kind !== "quantity") continue;
    const reserve = reserveFor(label, subject);
    if (left.si < reserve.share) {
      yield report(time, left, reserve);
      return;
    }
  }
}

/** Whether the note says anywhere how long something is to run; most do not. */
const namesTime = ({ evaluation }: Subject): boolean => evaluation.endingIn(TIMES).length > 0;

const bareKey = ({ definition }: Evaluated): string => {
  const label = definition.block.label.toLowerCase();
  return label === "" ? definition.key : definition.key.slice(label.length + 1);
};

/** Whether the supply may be the vehicle's battery: nothing in the note says that it is another. */
function fromBattery({ evaluation }: Subject): boolean {
  for (const key of ["supply", "power supply", "supply power"]) {
    const result = evaluation.byKey.get(key)?.result;
    if (result?.kind === "text") return /\bbattery\b/i.test(result.text);
  }
  return true;
}

/** A time that `run time` gives is what the battery allows, not what the work takes. */
function isRunTime({ definition: { body } }: Evaluated): boolean {
  if (body.kind !== "line" || body.syntax.kind !== "formula") return false;
  const { formula } = body.syntax;
  return formula.kind === "call" && formula.name.key === "run time";
}

function find(
  names: readonly string[],
  dimension: Quantity["dimension"],
  label: string,
  { evaluation }: Subject,
): Evaluated | undefined {
  for (const key of names) {
    const definition = resolve(evaluation.scope, label, { key, text: key });
    const evaluated = definition && evaluation.byKey.get(definition.key);
    if (evaluated?.result?.kind === "quantity" && evaluated.result.dimension === dimension) return evaluated;
  }
  return undefined;
}

function reserveFor(label: string, subject: Subject): { share: number; own: boolean } {
  const result = find(["reserve", "battery reserve"], NONE, label, subject)?.result;
  return result?.kind === "quantity" ? { share: result.si, own: true } : { share: USUAL_RESERVE, own: false };
}

function report(at: Evaluated, left: Quantity, reserve: { share: number; own: boolean }): Report {
  const { definition } = at;
  const kept = `${Number((reserve.share * 100).toFixed(1))} %`;
  return {
    range: rangeOn(definition.body.placed, definition.nameSpan),
    message: `This leaves ${show(left).text} of the battery's charge, less than the reserve of ${kept}.`,
    advice: `Run it from a bench supply or with a charger connected, or for a shorter time.${reserve.own ? "" : " The reserve of 60 % is common practice, no source; write a reading `reserve` to set another."}`,
  };
}

const note = (time: string) =>
  `\`\`\`readings\nbattery capacity: 70 A.h\nsupply current: 9.2 A\nrunning time: ${time}\n\`\`\`\n`;

export const page: RulePage = {
  title: "More than the battery can spare",
  means:
    "Running for the time that the note names would leave less of the battery's charge than the reserve: `battery capacity`, a current (`supply current`) and `running time` are read, or the note works out `reserve left` itself. The reserve is the reading `reserve`, else 60 %.",
  mend: "Use a bench supply or a charger, run it for a shorter time, or draw less.",
  source:
    "Peukert's law as under `reserve left` in the function reference. That about 40 % used already leaves an engine that will not start is from a vehicle service text; the reserve of 60 % is common practice, no source.",
  breaks: { note: note("6 h") },
  keeps: { note: note("1 h") },
};
