import type { Asked } from "./condition.ts";
import { FIELDS } from "./fields.ts";
import type { LiveBase } from "./live-base.ts";
import { DURATION_QUESTION, QUESTIONS } from "./questions.ts";

/** What somebody typed into one line: a condition, or words to look for. */
export type Question =
  | { readonly kind: "condition"; readonly text: string }
  | { readonly kind: "words"; readonly text: string };

const ASKED = [...QUESTIONS, DURATION_QUESTION].map(({ name }) => name).join("|");
/** `procedure is`, also before the quotes are typed. */
const FIELD_IS = new RegExp(`^(?:${FIELDS.join("|")})\\s+is\\b`, "i");
const CALLS = new RegExp(`(?:^|[\\s(])(?:${ASKED})\\s*\\(`, "i");

/**
 * Tells a condition from words. What compares (`leak size > 0.3 mm`, `procedure is "evap-leak"`), asks a
 * question (`done("seal")`) or begins with `not` is a condition, also while it is only half typed.
 */
export function readQuestion(text: string): Question {
  const trimmed = text.trim();
  const compares = /[<>=≤≥≠]|[^\s"“”]\s+is\s+["“”]/u.test(trimmed) || FIELD_IS.test(trimmed);
  const isCondition = compares || CALLS.test(trimmed) || /^not\s/i.test(trimmed);
  return isCondition ? { kind: "condition", text } : { kind: "words", text: trimmed };
}

/** A note that was found, by its number in the base. */
export interface FoundNote {
  readonly number: number;
  /** Label of the block for which it meets the condition; empty for the note itself. */
  readonly label: string;
  /** For words: how well, and which of the note's words were met. */
  readonly score?: number;
  readonly terms?: readonly string[];
  /** For a number that names the job or the vehicle: the field that holds it. */
  readonly field?: string;
}

/** Notes that are tried before others are let in. */
const AT_ONCE = 50;

/** All notes that meet a condition, by date with the latest first and then by path. */
export function* findByCondition({ base }: LiveBase, condition: Asked): Generator<void, FoundNote[]> {
  const found: FoundNote[] = [];
  for (let number = 0; number < base.notes.length; number++) {
    const label = condition.meets(number);
    if (label !== undefined) found.push({ number, label });
    if (number % AT_ONCE === AT_ONCE - 1) yield;
  }
  const day = ({ number }: FoundNote): string => base.notes[number]?.day ?? "";
  const path = ({ number }: FoundNote): string => base.notes[number]?.path ?? "";
  return found.sort((a, b) => compare(day(b), day(a)) || compare(path(a), path(b)));
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** What people know a job or a vehicle by; its parts are no words of a text. */
const NUMBERS = [
  "job",
  "comeback of",
  "vehicle plate",
  "vehicle fleet number",
  "vehicle vin",
  "vehicle serial",
];
const LEAST_TYPED = 2;

/**
 * All notes that hold all of the words, best first. Takes up the words of notes that are new. What was typed
 * as it stands in a job's or vehicle's number goes before.
 */
export function* findByWords(live: LiveBase, text: string): Generator<void, FoundNote[]> {
  const found: FoundNote[] = [];
  const typed = text.toLowerCase();
  for (const [number, { fields }] of live.base.notes.entries()) {
    if (number % AT_ONCE === 0) yield;
    const field = NUMBERS.find((name) => [fields[name] ?? ""].flat().join(" ").toLowerCase().includes(typed));
    if (field !== undefined && typed.length >= LEAST_TYPED) found.push({ number, label: "", field });
  }
  const before = new Set(found.map(({ number }) => number));
  yield* live.takeUpWords();
  for (const { note: number, score, terms } of live.words.search(text, { all: true }))
    if (!before.has(number)) found.push({ number, label: "", score, terms });
  return found;
}
