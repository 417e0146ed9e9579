import type { Outcome, StepLine, StepsLine } from "../language/syntax.ts";
import type { Note, Placed, Range, StepsBlock } from "../note/note.ts";
import { findStep, type Procedure, type Step } from "../procedures/procedure.ts";

/** One step line of the note that the procedure knows. Times are minutes on one line through all days. */
export interface StepEvent {
  readonly syntax: StepLine;
  /** Where it stands, told when somebody asks. */
  readonly placed: Placed<StepLine>;
  readonly block: StepsBlock;
  readonly step: Step;
  /** Whether it was done; a line that starts with `--:--` is still to do. */
  readonly done: boolean;
  /** `YYYY-MM-DD`; undefined where the note gives no date at all. */
  readonly day: string | undefined;
  readonly at: number | undefined;
  /** Its end, where it says `until`. */
  readonly until: number | undefined;
  /** The place in lower case; undefined where none is written or the step takes none. */
  readonly place: string | undefined;
  readonly remark: string;
  /** The outcome that it says, when it is one of those that the step can have. */
  readonly outcome: Outcome | undefined;
}

/** A date line or a step whose time lies before the one above it. */
export interface TimeSlip {
  readonly placed: Placed<unknown>;
  readonly span: Range;
  readonly kind: "time" | "date" | "until";
  readonly before: StepEvent | undefined;
  /** The day that it would be if the next day had begun. */
  readonly nextDay: string | undefined;
}

export interface Events {
  readonly done: readonly StepEvent[];
  /** Steps still to do, in the order of the note. */
  readonly planned: readonly StepEvent[];
  readonly slips: readonly TimeSlip[];
}

const DAY = 24 * 60;
const MILLISECONDS_PER_DAY = 86_400_000;

let lastDay = { iso: "", number: 0 };

/** Days since 1970. The one asked for last is kept, since all steps of a day ask for the same. */
function dayNumber(iso: string): number {
  if (lastDay.iso !== iso) {
    lastDay = { iso, number: Math.round(Date.parse(`${iso}T00:00:00Z`) / MILLISECONDS_PER_DAY) };
  }
  return lastDay.number;
}

const dayAfter = (iso: string): string =>
  new Date((dayNumber(iso) + 1) * MILLISECONDS_PER_DAY).toISOString().slice(0, 10);

/** A moment as `YYYY-MM-DD HH:MM`, or only `HH:MM` where it falls on the day `near` or no day is known. */
export function momentInWords(minutes: number, near: string | undefined): string {
  const day = Math.floor(minutes / DAY);
  const rest = Math.round(minutes - day * DAY);
  const clock = `${String(Math.floor(rest / 60)).padStart(2, "0")}:${String(rest % 60).padStart(2, "0")}`;
  if (day === 0 || (near !== undefined && dayNumber(near) === day)) return clock;
  if (day < 1000) return `${clock}, ${day === 1 ? "one day" : `${day} days`} later`;
  return `${new Date(day * MILLISECONDS_PER_DAY).toISOString().slice(0, 10)} ${clock}`;
}

/** Reads the steps of a note as events, in the order in which they stand. */
export function readEvents(note: Note, procedure: Procedure): Events {
  const done: StepEvent[] = [];
  const planned: StepEvent[] = [];
  const slips: TimeSlip[] = [];
  let day = note.frontMatter.fields.date ?? firstDate(note);
  // The step above, as far as it is of the same day.
  let latest: number | undefined;
  let before: StepEvent | undefined;

  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    const { trees } = block.content;
    for (let index = 0; index < trees.length; index++) {
      const syntax = trees[index] as StepsLine;
      if (syntax.kind === "date") {
        if (latest !== undefined && day !== undefined && syntax.date.iso < day) {
          slips.push({
            placed: placedIn(block, index),
            span: syntax.date.span,
            kind: "date",
            before,
            nextDay: undefined,
          });
        }
        // A new day starts afresh, also where it lies before the last one: that is said once.
        if (day !== syntax.date.iso) latest = undefined;
        day = syntax.date.iso;
        continue;
      }
      if (syntax.kind !== "step") continue;
      const at = momentOf(day, syntax.time.minutes);
      const found = findStep(procedure, syntax.step.text);
      const event = found.ok ? new EventOfLine(block, index, syntax, found.step, day, at) : undefined;
      if (at !== undefined) {
        if (latest !== undefined && at < latest) {
          const nextDay = day === undefined ? undefined : dayAfter(day);
          const placed = placedIn(block, index);
          slips.push({ placed, span: syntax.time.span, kind: "time", before, nextDay });
        }
        latest = at;
        before = event;
        if (syntax.until?.date && event?.until !== undefined && event.until < at) {
          const placed = placedIn(block, index);
          slips.push({ placed, span: syntax.until.span, kind: "until", before: event, nextDay: undefined });
        }
      }
      if (event) (event.done ? done : planned).push(event);
    }
  }
  return { done, planned, slips };
}

function firstDate(note: Note): string | undefined {
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const syntax of block.content.trees) if (syntax.kind === "date") return syntax.date.iso;
  }
  return undefined;
}

const momentOf = (day: string | undefined, minutes: number | undefined): number | undefined =>
  minutes === undefined ? undefined : (day === undefined ? 0 : dayNumber(day) * DAY) + minutes;

// The numbers of lines come from the block itself.
const placedIn = <L = StepLine>(block: StepsBlock, index: number): Placed<L> =>
  block.lines[index] as unknown as Placed<L>;

class EventOfLine implements StepEvent {
  readonly done: boolean;
  readonly until: number | undefined;
  readonly place: string | undefined;
  readonly remark: string;
  readonly outcome: Outcome | undefined;

  constructor(
    readonly block: StepsBlock,
    private readonly index: number,
    readonly syntax: StepLine,
    readonly step: Step,
    readonly day: string | undefined,
    readonly at: number | undefined,
  ) {
    const word = syntax.outcome?.word;
    const known = step.outcome && word !== undefined && outcomeFits(step.outcome, word);
    this.done = syntax.time.minutes !== undefined;
    this.until = endOf(syntax, day, at);
    this.place = step.perPlace ? syntax.place?.key : undefined;
    this.remark = syntax.remark?.text ?? "";
    this.outcome = known ? word : undefined;
  }

  get placed(): Placed<StepLine> {
    return placedIn(this.block, this.index);
  }
}

const wordsOfOutcome = new Map<string, readonly string[]>();

/** `found or none` of a procedure file, of which there are few. */
function outcomeFits(kind: string, word: string): boolean {
  const words = wordsOfOutcome.get(kind) ?? kind.split(/, | or /);
  wordsOfOutcome.set(kind, words);
  return words.includes(word);
}

function endOf({ until }: StepLine, day: string | undefined, at: number | undefined): number | undefined {
  if (!until) return undefined;
  const end = momentOf(until.date?.iso ?? day, until.time.minutes);
  // Without a date an end before the start is that of the next morning.
  return end !== undefined && at !== undefined && end < at && !until.date ? end + DAY : end;
}

/** The step's words, place and time as a message names them: "`seal` [seam] at 11:30". */
export function eventInWords(event: StepEvent, near?: string): string {
  const { syntax } = event;
  const place = event.place === undefined ? "" : ` [${syntax.place?.text ?? event.place}]`;
  const name = `\`${syntax.step.text}\`${place}`;
  if (event.at === undefined) return `${name}, still to do`;
  const day = near !== undefined && event.day !== undefined && event.day !== near ? ` on ${event.day}` : "";
  return `${name}${day} at ${momentInWords(event.at, event.day)}`;
}

/** A place in square brackets, in the letters in which the note first writes it. */
export function placeInWords(place: string, { done, planned }: Events): string {
  const named = (event: StepEvent) => event.place === place;
  const event = done.find(named) ?? planned.find(named);
  return `[${event?.syntax.place?.text ?? place}]`;
}

export const rangeOfEvent = ({ placed, syntax }: StepEvent): Range => ({
  from: placed.offset + syntax.step.span.from,
  to: placed.offset + syntax.step.span.to,
});
