import type { StepsLine } from "../language/syntax.ts";
import type { Note } from "../note/note.ts";

/** A day of the note with the times at which something was done on it, in minutes after midnight. */
export interface DayOfNote {
  readonly day: string;
  readonly first: number | undefined;
  readonly last: number | undefined;
}

/** The days that a note was worked on: the date lines of its steps, else the front matter's `date`. */
export function daysOfNote(note: Note): readonly DayOfNote[] {
  const known = daysKnown.get(note);
  if (known) return known;
  const made = gatherDays(note);
  daysKnown.set(note, made);
  return made;
}

const daysKnown = new WeakMap<Note, readonly DayOfNote[]>();

/** A stretch of one steps block on one day; what stands above its first date line has no day of its own. */
interface Stretch {
  readonly day: string | undefined;
  first: number | undefined;
  last: number | undefined;
}

function stretchesOf(trees: readonly StepsLine[]): readonly Stretch[] {
  let current: Stretch = { day: undefined, first: undefined, last: undefined };
  const stretches = [current];
  for (const line of trees) {
    if (line.kind === "date") {
      current = { day: line.date.iso, first: undefined, last: undefined };
      stretches.push(current);
    } else if (line.kind === "step" && line.time.minutes !== undefined) {
      const { minutes } = line.time;
      current.first = Math.min(current.first ?? minutes, minutes);
      current.last = Math.max(current.last ?? minutes, minutes);
    }
  }
  return stretches;
}

function gatherDays(note: Note): readonly DayOfNote[] {
  const days = new Map<string, { first: number | undefined; last: number | undefined }>();
  const { date } = note.frontMatter.fields;
  let current = date;
  const open = (day: string) => {
    const known = days.get(day) ?? { first: undefined, last: undefined };
    days.set(day, known);
    return known;
  };
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { day: named, first, last } of block.content.once(stretchesOf)) {
      if (named !== undefined) current = named;
      if (current === undefined || (named === undefined && first === undefined)) continue;
      const day = open(current);
      if (first === undefined || last === undefined) continue;
      day.first = Math.min(day.first ?? first, first);
      day.last = Math.max(day.last ?? last, last);
    }
  }
  if (date && days.size === 0) open(date);
  return [...days].map(([day, times]) => ({ day, ...times })).sort((a, b) => (a.day < b.day ? -1 : 1));
}

/**
 * The days on which something read at a time of day may have been read: those on which work went on at that
 * time, else all of them.
 */
export function dayOf(days: readonly DayOfNote[], minutes: number | undefined): readonly string[] {
  const all = days.map((one) => one.day);
  if (minutes === undefined || days.length < 2) return all;
  const at = days.filter(
    (one) => one.first !== undefined && one.last !== undefined && one.first <= minutes && minutes <= one.last,
  );
  return at.length > 0 ? at.map((one) => one.day) : all;
}
