import type { Note } from "../note/note.ts";

/** A day of the note with the times at which something was done on it, in minutes after midnight. */
export interface DayOfNote {
  readonly day: string;
  readonly first: number | undefined;
  readonly last: number | undefined;
}

/** The days that a note was worked on: the date lines of its steps, else the front matter's `date`. */
export function daysOfNote(note: Note): readonly DayOfNote[] {
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
    for (const { syntax } of block.lines) {
      if (syntax.kind === "date") {
        current = syntax.date.iso;
        open(current);
      } else if (syntax.kind === "step" && syntax.time.minutes !== undefined && current !== undefined) {
        const day = open(current);
        const { minutes } = syntax.time;
        day.first = Math.min(day.first ?? minutes, minutes);
        day.last = Math.max(day.last ?? minutes, minutes);
      }
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
