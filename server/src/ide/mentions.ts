import type { Analysis } from "../analysis/analysis.ts";
import type { Note, Placed, Range, ReadingsBlock } from "../note/note.ts";

/** A place where a note names something that it may name elsewhere too. */
export interface Mention {
  readonly kind: "reading" | "place" | "instrument";
  /** Lower-case name; for a reading the whole one, with its label. The same thing has the same kind and key. */
  readonly key: string;
  readonly range: Range;
  readonly defines: boolean;
}

const made = new WeakMap<Analysis, readonly Mention[]>();

/** All mentions in the order of the note. Made once for each analysis. */
export function mentionsOf(analysis: Analysis): readonly Mention[] {
  const known = made.get(analysis);
  if (known) return known;
  const mentions: Mention[] = analysis.nameUses().map((use) => ({ kind: "reading", ...use }));
  mentions.push(...placesAndInstruments(analysis.note));
  mentions.sort((a, b) => a.range.from - b.range.from);
  made.set(analysis, mentions);
  return mentions;
}

function* placesAndInstruments(note: Note): Generator<Mention> {
  const seen = new Set<string>();
  for (const block of note.blocks) {
    if (block.kind === "steps") {
      for (const { syntax, offset } of block.lines) {
        const place = syntax.kind === "step" ? syntax.place : undefined;
        if (!place) continue;
        // A place is not defined anywhere; its first mention stands for that.
        yield { kind: "place", key: place.key, range: at(offset, place.span), defines: !seen.has(place.key) };
        seen.add(place.key);
      }
    } else if (block.kind === "readings") {
      yield* instrumentsIn(block);
    }
  }
}

function* instrumentsIn(block: ReadingsBlock): Generator<Mention> {
  for (const { syntax, offset } of block.lines) {
    const name = syntax.kind === "measured" ? syntax.instrument : undefined;
    if (name) yield { kind: "instrument", key: name.key, range: at(offset, name.span), defines: false };
  }
}

/** A line's span as a range of the note. */
export const at = (offset: Placed<unknown>["offset"], span: Range): Range => ({
  from: offset + span.from,
  to: offset + span.to,
});

/** Those of the block round an offset are enough for what stands there, save in steps, whose places run through all. */
function mentionsNear(analysis: Analysis, offset: number): readonly Mention[] {
  const block = analysis.note.blocks.find(({ range }) => range.from <= offset && offset <= range.to);
  if (block?.kind !== "readings" && block?.kind !== "limits") return mentionsOf(analysis);
  const mentions: Mention[] = analysis.nameUses(block.range).map((use) => ({ kind: "reading", ...use }));
  if (block.kind === "readings") mentions.push(...instrumentsIn(block));
  return mentions.sort((a, b) => a.range.from - b.range.from);
}

/** The mention that holds an offset; right behind its last letter still counts. */
export function mentionAt(analysis: Analysis, offset: number): Mention | undefined {
  const mentions = made.get(analysis) ?? mentionsNear(analysis, offset);
  let low = 0;
  let high = mentions.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const mention = mentions[middle];
    if (!mention) return undefined;
    if (offset < mention.range.from) high = middle - 1;
    else if (offset > mention.range.to) low = middle + 1;
    else return mention;
  }
  return undefined;
}

/** Every mention of the same thing. */
export const mentionsLike = (analysis: Analysis, { kind, key }: Mention): readonly Mention[] =>
  mentionsOf(analysis).filter((other) => other.kind === kind && other.key === key);
