import { eastAsianWidth } from "get-east-asian-width";

/**
 * How many cells of a terminal a text takes up, and where in it a place stands. Texts are cut into what a
 * reader sees as one character (grapheme clusters, Unicode UAX #29), so that an accent written apart from
 * its letter, or a family of joined emoji, is one thing with one width.
 */

/** One visible character: what to print for it, its width in cells, and its place in the text (UTF-16). */
export interface Cell {
  readonly shown: string;
  readonly width: number;
  readonly from: number;
  readonly to: number;
}

const TAB_STOP = 4;

const PRINTABLE_ASCII = /^[ -~]*$/;
/** Letters and signs of Latin script as well: each is one character of one cell, so nothing has to be cut. */
const PLAIN = /^[ -~\u00a1-\u00ac\u00ae-\u02ff]*$/;
/** Whether every character is one of one cell, shown as it is. */
export const isPlain = (text: string): boolean => PLAIN.test(text);

const INVISIBLE = /^[\p{Default_Ignorable_Code_Point}\p{Mark}]+$/u;
// Emoji by nature, and characters that a variation selector or a keycap turns into one (UTS #51). The exact
// set of sequences is at hand as `\p{RGI_Emoji}`, but takes 25 ms to make ready.
const EMOJI = /\p{Emoji_Presentation}|\uFE0F|\u20E3/u;
const RIGHT_TO_LEFT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;

let segmenter: Intl.Segmenter | undefined;

/** Cuts one line (no line break inside) into cells. Tabs run to the next stop, counted from the line's start. */
export function cellsOf(line: string): Cell[] {
  const cells: Cell[] = [];
  let column = 0;
  const add = (text: string, from: number): void => {
    const cell =
      text === "\t"
        ? { shown: " ".repeat(TAB_STOP - (column % TAB_STOP)), width: TAB_STOP - (column % TAB_STOP) }
        : { shown: harmless(text), width: clusterWidth(text) };
    cells.push({ ...cell, from, to: from + text.length });
    column += cell.width;
  };
  if (PRINTABLE_ASCII.test(line)) {
    for (let i = 0; i < line.length; i++) add(line.charAt(i), i);
    return cells;
  }
  segmenter ??= new Intl.Segmenter(undefined, { granularity: "grapheme" });
  for (const { segment, index } of segmenter.segment(line)) add(segment, index);
  return cells;
}

/** Width of a text in cells. */
export function displayWidth(text: string): number {
  // Cutting makes objects that outlive many a cleaning up: a table of ten thousand rows would feel it.
  if (PLAIN.test(text)) return text.length;
  return cellsOf(text).reduce((sum, cell) => sum + cell.width, 0);
}

/** Whether a terminal may show parts of the text from right to left. */
export const hasRightToLeft = (text: string): boolean => RIGHT_TO_LEFT.test(text);

/**
 * Replaces characters that would steer the terminal (escape sequences, reversed text) by visible stand-ins:
 * a note from somebody else must not be able to hide or forge what is printed.
 */
export function harmless(text: string): string {
  if (PLAIN.test(text)) return text;
  let result = "";
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    if (code < 0x20) result += String.fromCodePoint(0x2400 + code);
    else if (code === 0x7f) result += "\u2421";
    else if (isSteering(code)) result += "\uFFFD";
    else result += character;
  }
  return result;
}

/** C1 controls, line and paragraph separators, and the bidirectional overrides and isolates. */
function isSteering(code: number): boolean {
  return (
    (code >= 0x80 && code <= 0x9f) ||
    code === 0x2028 ||
    code === 0x2029 ||
    (code >= 0x202a && code <= 0x202e) ||
    (code >= 0x2066 && code <= 0x2069) ||
    (code >= 0xd800 && code <= 0xdfff)
  );
}

function clusterWidth(cluster: string): number {
  const code = cluster.codePointAt(0) ?? 0;
  if (cluster.length === 1 && code < 0x300) return 1;
  if (isSteering(code)) return 1;
  if (INVISIBLE.test(cluster)) return 0;
  if (EMOJI.test(cluster)) return 2;
  return eastAsianWidth(code);
}
