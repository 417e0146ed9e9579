import type { Expression } from "../language/syntax.ts";
import type { Asked } from "./condition.ts";
import { isField } from "./fields.ts";
import { namedValues, valueInWords } from "./named-values.ts";
import type { NoteRecord } from "./record.ts";
import { processTerm, tokenize } from "./word-index.ts";
import { sameWords, textOf } from "./words-compared.ts";

/** Where in a note something stands that was asked for. */
export type Place =
  /** A line, from 1, and what it says. */
  | { readonly kind: "line"; readonly line: number; readonly says: string }
  /** A key of the front matter. */
  | { readonly kind: "field"; readonly key: string }
  /** Words, as `processTerm` leaves them. */
  | { readonly kind: "words"; readonly terms: readonly string[] };

/**
 * The places in a note for which it meets a condition, in the condition's order. Of two sides of an `or` only
 * those count that hold; what stands under a `not` is in no place at all.
 */
export function placesOf(condition: Asked, note: NoteRecord, number: number, label: string): Place[] {
  const places: Place[] = [];
  const look = (node: Expression): void => {
    switch (node.kind) {
      case "name":
        if (isField(node.name.key)) places.push({ kind: "field", key: node.name.key });
        else places.push(...valuePlaces(note, label, node.name));
        return;
      case "negate":
        look(node.operand);
        return;
      case "is":
        look(node.subject);
        return;
      case "binary":
        for (const side of [node.left, node.right])
          if (node.operator !== "or" || condition.holds(side, number, label) === true) look(side);
        return;
      case "call": {
        const asked = questionPlaces(node, note);
        if (asked) places.push(...asked);
        else for (const { value } of node.args) look(value);
        return;
      }
      default:
        return;
    }
  };
  look(condition.expression);
  return places;
}

function valuePlaces(note: NoteRecord, label: string, name: { key: string; text: string }): Place[] {
  const asked = durationStep(name.text);
  if (asked !== undefined) return stepPlaces(note, asked, undefined, () => true).slice(0, 1);
  const [value] = namedValues(note, label, [name.key]);
  if (value === undefined) return [];
  const full = value.label === undefined ? value.name : `${value.label} ${value.name}`;
  return [{ kind: "line", line: value.line, says: `${full}: ${valueInWords(value)}` }];
}

/** `duration("dry")` stands in a condition as a name of its own. */
const durationStep = (text: string): string | undefined => /^duration\("(.*)"\)$/.exec(text)?.[1];

type Call = Expression & { readonly kind: "call" };

/** Undefined for what is no question but a function of readings. */
function questionPlaces({ name, args }: Call, note: NoteRecord): Place[] | undefined {
  const [first = "", second] = args.map(({ value }) => textOf(value) ?? "");
  switch (name.key) {
    case "done":
      return stepPlaces(note, first, second, ({ at }) => at !== undefined);
    case "planned":
      return stepPlaces(note, first, second, ({ at }) => at === undefined);
    case "outcome of":
      return stepPlaces(note, first, undefined, ({ outcome = "" }) => sameWords(outcome, second ?? ""));
    case "finding":
    case "accepted":
      return note.findings
        .filter(({ rule, accepted }) => {
          const wanted = (accepted !== undefined) === (name.key === "accepted");
          return wanted && (rule === first || rule.startsWith(`${first}/`));
        })
        .map(({ line, message }) => ({ kind: "line", line, says: message }));
    case "says":
      return [{ kind: "words", terms: termsOf(second ?? first) }];
    default:
      return undefined;
  }
}

type Step = NoteRecord["steps"][number];

const stepPlaces = (
  note: NoteRecord,
  step: string,
  place: string | undefined,
  fits: (step: Step) => boolean,
): Place[] =>
  note.steps
    .filter((one) => sameWords(one.step, step) && fits(one))
    .filter((one) => place === undefined || sameWords(one.place ?? "", place))
    .map((one) => ({ kind: "line", line: one.line, says: stepInWords(one) }));

function stepInWords({ day, at, step, place, remark }: Step): string {
  const two = (number: number): string => String(number).padStart(2, "0");
  const time = at === undefined ? "--:--" : `${two(Math.floor(at / 60))}:${two(at % 60)}`;
  const where = place === undefined ? "" : ` [${place}]`;
  const when = day === undefined || at === undefined ? time : `${day} ${time}`;
  return `${when}  ${step}${where}${remark === undefined ? "" : `: ${remark}`}`;
}

export const termsOf = (text: string): string[] => tokenize(text).flatMap((word) => processTerm(word) ?? []);

/** A place that was found in the note's text. */
export interface LinePlace {
  /** From 1. */
  readonly line: number;
  readonly says: string;
}

/** Finds the lines of places in the note's text; what is nowhere to be seen is left out. */
export function findLines(text: string, places: readonly Place[]): LinePlace[] {
  const found: LinePlace[] = [];
  let lines: readonly string[] | undefined;
  for (const place of places) {
    if (place.kind === "line") {
      take(place);
      continue;
    }
    lines ??= text.split(/\r\n|[\n\r]/);
    const line = place.kind === "field" ? lineOfKey(lines, place.key) : lineOfWords(lines, place.terms);
    if (line !== undefined) take({ line: line + 1, says: (lines[line] ?? "").trim() });
  }
  return found;

  function take({ line, says }: LinePlace): void {
    if (!found.some((one) => one.line === line)) found.push({ line, says });
  }
}

function lineOfKey(lines: readonly string[], key: string): number | undefined {
  // `vehicle odometer` stands as `odometer` under `vehicle`.
  const written = key.replace(/^vehicle (?=.)/, "").replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  const pattern = new RegExp(`(?:^|[{,\\s])["']?${written}["']?\\s*:`, "i");
  const end = lines.findIndex((line, i) => i > 0 && /^(?:---|\.\.\.)\s*$/.test(line));
  const at = lines.findIndex((line, i) => i < end && pattern.test(line));
  if (at >= 0) return at;
  // A note without a date has that of its first day of steps.
  const day = key === "date" ? lines.findIndex((line) => /^\d{4}-\d\d-\d\d\s*$/.test(line)) : -1;
  return day < 0 ? undefined : day;
}

/** The first of the lines that hold most of the words. */
function lineOfWords(lines: readonly string[], terms: readonly string[]): number | undefined {
  const wanted = new Set(terms);
  let best: number | undefined;
  let most = 0;
  lines.forEach((line, i) => {
    const here = new Set(termsOf(line).filter((term) => wanted.has(term)));
    if (here.size <= most) return;
    most = here.size;
    best = i;
  });
  return best;
}
