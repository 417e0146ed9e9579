import { EXACT, type Quantity } from "../analysis/quantity.ts";
import type { Expression } from "../language/syntax.ts";
import { TIME } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import type { NoteRecord, StepRecord } from "./record.ts";
import { sameWords, textOf } from "./words-compared.ts";

/**
 * What a condition may ask about a note beside its values. Each is written like a function, with words in
 * quotes, and is no function of the notes' own formulas.
 */
export interface Question {
  readonly name: string;
  readonly form: string;
  readonly says: string;
  /** How many arguments it takes at least and at most. */
  readonly takes: readonly [number, number];
}

export const QUESTIONS: readonly Question[] = [
  {
    name: "done",
    form: 'done("seal") or done("seal", "lower seam")',
    says: "the step was done, at that place",
    takes: [1, 2],
  },
  { name: "planned", form: 'planned("retest")', says: "the step is still to do", takes: [1, 2] },
  {
    name: "outcome of",
    form: 'outcome of("retest", "pass")',
    says: "the step was done at least once with that outcome",
    takes: [2, 2],
  },
  {
    name: "finding",
    form: 'finding("limit/exceeded") or finding("limit")',
    says: "the note has such a finding, of that rule or of that group of rules",
    takes: [1, 1],
  },
  {
    name: "accepted",
    form: 'accepted("sequence/needs")',
    says: "the note accepts such a finding with a reason",
    takes: [1, 1],
  },
  { name: "has", form: "has(leak size)", says: "the note has that reading or field", takes: [1, 1] },
  {
    name: "says",
    form: 'says("droplets") or says(complaint, "droplets")',
    says: "the note, or that field, holds all of these words",
    takes: [1, 2],
  },
];

const DURATION = "duration";
/** A quantity: so it is compared and calculated with. */
export const DURATION_QUESTION: Question = {
  name: DURATION,
  form: 'duration("dry")',
  says: "the time that the step took: to its `until`, else to the next step; all times that it was done together",
  takes: [1, 1],
};

const byName = new Map(QUESTIONS.map((question) => [question.name, question]));
export const isQuestion = (key: string): boolean => byName.has(key);
export const questionOf = (key: string): Question | undefined =>
  key === DURATION ? DURATION_QUESTION : byName.get(key);

type Call = Expression & { readonly kind: "call" };

/** The answer for one note. `has` is decided by the caller, who knows what the names stand for. */
export function askAbout(call: Call, note: NoteRecord, has: boolean): boolean {
  const [first = "", second] = call.args.map(({ value }) => textOf(value) ?? "");
  switch (call.name.key) {
    case "done":
      return note.steps.some((step) => step.at !== undefined && isStep(step, first) && atPlace(step, second));
    case "planned":
      return note.steps.some((step) => step.at === undefined && isStep(step, first) && atPlace(step, second));
    case "outcome of":
      return note.steps.some((step) => isStep(step, first) && sameWords(step.outcome ?? "", second ?? ""));
    case "finding":
      return note.findings.some((one) => one.accepted === undefined && ofRule(one.rule, first));
    case "accepted":
      return note.findings.some((one) => one.accepted !== undefined && ofRule(one.rule, first));
    case "says":
      return says(call, note, second ?? first);
    default:
      return has;
  }
}

const isStep = ({ step }: StepRecord, asked: string): boolean => sameWords(step, asked);
const atPlace = ({ place }: StepRecord, asked: string | undefined): boolean =>
  asked === undefined || sameWords(place ?? "", asked);
const ofRule = (rule: string, asked: string): boolean => rule === asked || rule.startsWith(`${asked}/`);

const WORD = /[\p{L}\p{N}]+/gu;
const wordsIn = (text: string): string[] => text.toLowerCase().match(WORD) ?? [];

const askedWords = new Map<string, readonly string[]>();

function says(call: Call, note: NoteRecord, asked: string): boolean {
  let words = askedWords.get(asked);
  if (words === undefined) {
    words = wordsIn(asked);
    askedWords.clear();
    askedWords.set(asked, words);
  }
  const field = call.args.length > 1 ? call.args[0]?.value : undefined;
  const texts =
    field?.kind === "name"
      ? [note.fields[field.name.key] ?? ""].flat()
      : [note.words, ...Object.values(note.fields).flat()];
  const text = texts.join(" ").toLowerCase();
  // Most notes do not hold the letters at all, which is told much faster than their words apart.
  if (!words.every((word) => text.includes(word))) return false;
  const there = new Set(wordsIn(text));
  return words.every((word) => there.has(word));
}

// ---- Durations ------------------------------------------------------------------------------------

const MARK = `${DURATION}\u0000`;

/** The formula with each `duration("…")` as a name of its own, so that it calculates like any value. */
export function withDurations(node: Expression): Expression {
  switch (node.kind) {
    case "call": {
      const step = node.name.key === DURATION ? node.args[0] && textOf(node.args[0].value) : undefined;
      if (step !== undefined) {
        const { span } = node;
        return { kind: "name", span, name: { span, text: `${DURATION}("${step}")`, key: MARK + step } };
      }
      return {
        ...node,
        args: node.args.map((argument) => ({ ...argument, value: withDurations(argument.value) })),
      };
    }
    case "binary":
      return { ...node, left: withDurations(node.left), right: withDurations(node.right) };
    case "negate":
    case "not":
      return { ...node, operand: withDurations(node.operand) };
    default:
      return node;
  }
}

/** The time that a step took in a note; `no question` for a name that asks for none. */
export function durationOf(key: string, note: NoteRecord): Quantity | undefined | "no question" {
  if (!key.startsWith(MARK)) return "no question";
  const asked = key.slice(MARK.length);
  let minutes: number | undefined;
  for (const step of note.steps) {
    if (step.minutes !== undefined && step.at !== undefined && isStep(step, asked))
      minutes = (minutes ?? 0) + step.minutes;
  }
  if (minutes === undefined) return undefined;
  const reading = readUnit("min");
  return {
    kind: "quantity",
    si: minutes * 60,
    dimension: TIME,
    scale: "plain",
    unit: reading.ok ? reading.unit : undefined,
    by: EXACT,
  };
}
