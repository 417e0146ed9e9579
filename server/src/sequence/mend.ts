import type { TextEdit } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import type { JobOutcome, Step } from "../procedures/procedure.ts";
import { lineAt, lineEnd } from "../text/line-index.ts";
import { endNames, hopedFor } from "./effects.ts";
import { endOf } from "./end.ts";
import type { StepEvent } from "./events.ts";
import type { History } from "./history.ts";
import type { StepAt } from "./literals.ts";
import { takeAtWord } from "./passing.ts";
import { failingTerms, nextMorning, playStep } from "./planned.ts";
import { makeProblem, type Wanted } from "./problem.ts";
import { cheapestRun, withoutDetours, withPlaces } from "./search.ts";
import type { State } from "./state.ts";
import type { Move } from "./strips.ts";
import { inUsualOrder } from "./usual-order.ts";

/** A line of the plan: one that the note has already among those still to do, or a new one. */
export interface PlanLine {
  readonly step: Step;
  readonly place: string | undefined;
  /** The line of the note. */
  readonly event: StepEvent | undefined;
  /** The place as the note writes it. */
  readonly placeText: string | undefined;
  /** It cannot be done when its turn comes, and nothing can be done about it. */
  readonly stuck: boolean;
}

export interface Plan {
  readonly outcome: JobOutcome;
  readonly lines: readonly PlanLine[];
  /** Whether the lines, done in order, bring the job to its end. */
  readonly complete: boolean;
}

const plans = new WeakMap<History, Map<JobOutcome, Plan>>();

/**
 * The shortest way to the end: the steps that the note has still to do, in its order as far as that can be
 * done, with the fewest new ones between and behind them. Nothing that was done is part of it.
 */
export function planFor(history: History, outcome: JobOutcome): Plan {
  const made = plans.get(history) ?? new Map<JobOutcome, Plan>();
  plans.set(history, made);
  const known = made.get(outcome);
  if (known) return known;
  const plan = new Planning(history, outcome).plan();
  made.set(outcome, plan);
  return plan;
}

class Planning {
  readonly #history: History;
  readonly #outcome: JobOutcome;
  readonly #end: ReadonlySet<string>;
  readonly #state: State;
  readonly #lines: PlanLine[] = [];
  readonly #remaining: StepEvent[];
  #again: readonly StepAt[];
  #before: Pick<StepEvent, "day" | "at"> | undefined;

  constructor(history: History, outcome: JobOutcome) {
    this.#history = history;
    this.#outcome = outcome;
    this.#end = new Set(endNames(history.grounds.procedure.end[outcome]));
    this.#state = history.after.clone();
    this.#remaining = [...history.events.planned];
    this.#again = toDoAgain(history);
    this.#before = history.events.done.at(-1);
  }

  plan(): Plan {
    for (let event = this.#remaining[0]; event; event = this.#remaining[0]) {
      this.#prepare(event);
      if (!this.#isReady(event) && !this.#makeReady(event)) {
        this.#remaining.shift();
        this.#lines.push({ ...lineOf(event), stuck: true });
        continue;
      }
      // Making it ready may have brought it forward itself.
      if (this.#remaining[0] === event) this.#take(event.step, event.place);
    }
    const run = this.#run({ planned: [], again: this.#again });
    for (const move of run ?? []) if (move.step) this.#take(move.step, move.place);
    const { missing, left } = endOf(this.#history, this.#state, this.#outcome);
    const complete =
      run !== undefined &&
      this.#again.length === 0 &&
      missing.length === 0 &&
      left.every((one) => one.onPurpose);
    return { outcome: this.#outcome, lines: this.#lines, complete };
  }

  #prepare(event: StepEvent): void {
    const { grounds } = this.#history;
    this.#before = nextMorning(this.#state, this.#before, event, grounds);
    takeAtWord(this.#state, event, grounds);
  }

  #isReady(event: StepEvent): boolean {
    return event.step.needs.every(
      (need) => failingTerms(need, event.place, this.#state, this.#history.grounds, event).length === 0,
    );
  }

  #makeReady(event: StepEvent): boolean {
    const run = this.#run({ target: event, planned: this.#remaining.slice(1), again: [] });
    for (const move of run ?? []) if (move.step) this.#take(move.step, move.place);
    return run !== undefined;
  }

  #run(wanted: Pick<Wanted, "target" | "planned" | "again">): readonly Move[] | undefined {
    const problem = makeProblem({
      history: this.#history,
      state: this.#state,
      outcome: this.#outcome,
      ...wanted,
    });
    const run = cheapestRun(problem);
    if (!run) return undefined;
    const ordered = inUsualOrder(run, problem, this.#history.grounds.procedure);
    return withPlaces(withoutDetours(ordered, problem), problem);
  }

  /** Puts a step next: the note's own line where it has one for it, else a new one. */
  #take(step: Step, place: string | undefined): void {
    const index = this.#remaining.findIndex((event) => event.step === step && event.place === place);
    const event = this.#remaining[index];
    if (event) this.#remaining.splice(index, 1);
    this.#lines.push(
      event
        ? lineOf(event)
        : { step, place, event: undefined, placeText: this.#spelling(place), stuck: false },
    );
    if (event) takeAtWord(this.#state, event, this.#history.grounds);
    const word = event?.outcome ?? hopedFor(step, this.#end);
    this.#again = this.#again.filter(
      (one) => one.step !== step || (place !== undefined && place !== one.place),
    );
    const cause = event ? ({ kind: "step", event } as const) : ({ kind: "start" } as const);
    playStep(step, place, word, this.#state, cause, this.#history.grounds);
  }

  #spelling(place: string | undefined): string | undefined {
    if (place === undefined) return undefined;
    const { done, planned } = this.#history.events;
    const same = [...done, ...planned].find((event) => event.place === place);
    return same?.syntax.place?.text ?? place;
  }
}

/** Steps that were done before their time, and not put right since. */
function toDoAgain({ unmet }: History): readonly StepAt[] {
  const again: StepAt[] = [];
  for (const { event, need, terms, putRightBy } of unmet) {
    if (putRightBy || need.severity === "warning" || again.some((one) => isSame(one, event))) continue;
    // Handing over is not done again: it is put right by what was lacking.
    if (event.step.special !== undefined) continue;
    // A reading or a limit that is written down mends it without doing anything again.
    if (terms.every(({ shownByNote }) => shownByNote)) continue;
    again.push({ step: event.step, place: event.place });
  }
  return again;
}

const isSame = (a: StepAt, b: StepAt): boolean => a.step === b.step && a.place === b.place;

const lineOf = (event: StepEvent): PlanLine => ({
  step: event.step,
  place: event.place,
  event,
  placeText: event.syntax.place?.text,
  stuck: false,
});

/** A step still to do as a line of the note. */
const lineInNote = ({ step, placeText }: Pick<PlanLine, "step" | "placeText">): string =>
  `--:--  ${step.name}${placeText === undefined ? "" : ` [${placeText}]`}`;

/** The edits that write a plan into the note. Lines that were done stay as they are. */
export function editsFor(plan: Plan, history: History): readonly TextEdit[] {
  const { note } = history.grounds;
  const { planned, done } = history.events;
  const edits: TextEdit[] = [];
  const upTo = new Map<StepEvent | undefined, string[]>();
  let pending: string[] = [];
  // Lines of the note keep their places as long as they stand in the order of the plan.
  const kept = inOrder(
    plan.lines.flatMap((line) => line.event ?? []),
    planned,
  );
  for (const line of plan.lines) {
    if (line.event && kept.has(line.event)) {
      upTo.set(line.event, pending);
      pending = [];
    } else pending.push(line.event ? textOf(line.event, note.text) : lineInNote(line));
  }
  for (const event of planned) {
    if (!kept.has(event)) edits.push({ range: wholeLine(event, history), text: "" });
  }
  for (const [event, lines] of upTo) {
    if (!event || lines.length === 0) continue;
    const at = event.placed.offset;
    const indent = indentOf(event, history);
    edits.push({ range: { from: at, to: at }, text: lines.map((line) => `${line}\n${indent}`).join("") });
  }
  if (pending.length > 0) edits.push(appended(pending, [...done, ...kept], history));
  return edits.sort((a, b) => a.range.from - b.range.from);
}

/** The longest run of events that stand in the note in the order of the plan. */
function inOrder(wanted: readonly StepEvent[], planned: readonly StepEvent[]): ReadonlySet<StepEvent> {
  const at = wanted.map((event) => planned.indexOf(event));
  const best: { readonly length: number; readonly from: number }[] = [];
  at.forEach((position, i) => {
    let length = 1;
    let from = -1;
    for (let j = 0; j < i; j++) {
      const before = best[j];
      if ((at[j] ?? 0) < position && before && before.length + 1 > length) {
        length = before.length + 1;
        from = j;
      }
    }
    best.push({ length, from });
  });
  let last = best.reduce((most, one, i) => (one.length > (best[most]?.length ?? 0) ? i : most), 0);
  const kept = new Set<StepEvent>();
  for (let step = best[last]; step; step = best[last]) {
    const event = wanted[last];
    if (event) kept.add(event);
    last = step.from;
  }
  return kept;
}

const textOf = ({ placed }: StepEvent, text: string): string =>
  text.slice(placed.offset, placed.offset + placed.length);

/** What stands before the line's content, in a quotation or a list. */
function indentOf({ placed }: StepEvent, { grounds }: History): string {
  const { text, lines } = grounds.note;
  return text.slice(lines.starts[placed.line] ?? placed.offset, placed.offset);
}

function wholeLine({ placed }: StepEvent, { grounds }: History): Range {
  const { lines } = grounds.note;
  return { from: lines.starts[placed.line] ?? placed.offset, to: lines.starts[placed.line + 1] ?? lines.end };
}

/** Behind the last step line, in the last steps block, or in a block of its own at the end of the note. */
function appended(lines: readonly string[], events: readonly StepEvent[], history: History): TextEdit {
  const { text, blocks, lines: index } = history.grounds.note;
  const last = events.reduce<StepEvent | undefined>(
    (found, event) => (found && found.placed.offset > event.placed.offset ? found : event),
    undefined,
  );
  if (last) {
    const at = last.placed.offset + last.placed.length;
    const indent = indentOf(last, history);
    return { range: { from: at, to: at }, text: lines.map((line) => `\n${indent}${line}`).join("") };
  }
  const block = blocks.findLast((one) => one.kind === "steps");
  if (block) {
    const at = lineEnd(index, text, lineAt(index, block.range.from));
    return { range: { from: at, to: at }, text: lines.map((line) => `\n${line}`).join("") };
  }
  const gap = text.endsWith("\n") || text === "" ? "\n" : "\n\n";
  return {
    range: { from: text.length, to: text.length },
    text: `${gap}\`\`\`steps\n${lines.join("\n")}\n\`\`\`\n`,
  };
}
