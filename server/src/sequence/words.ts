import { plainWords } from "../procedures/procedure.ts";

const patterns = new WeakMap<readonly string[], RegExp>();

/**
 * Whether a remark says one of these words: whole words without regard to case, hyphens and double blanks,
 * `*` for any ending. "not ventilated" does not say "ventilated".
 */
export function saysOneOf(text: string, words: readonly string[]): boolean {
  if (text === "") return false;
  // The same remark is asked about many words in a row.
  if (text !== lastText) {
    lastText = text;
    lastPlain = plainWords(text);
  }
  return patternOf(words).test(lastPlain);
}

let lastText = "";
let lastPlain = "";

/** The first of these words that a text says, as the list has it. */
export function firstSaid(text: string, words: readonly string[]): string | undefined {
  return words.find((word) => saysOneOf(text, wordList(word)));
}

const single = new Map<string, readonly string[]>();
function wordList(word: string): readonly string[] {
  const known = single.get(word);
  if (known) return known;
  const made = [word];
  single.set(word, made);
  return made;
}

function patternOf(words: readonly string[]): RegExp {
  const known = patterns.get(words);
  if (known) return known;
  const choices = words.map((word) => {
    const escaped = plainWords(word).replace(/[.+?^${}()|[\]\\/]/g, "\\$&");
    return escaped.replace(/\*/g, "[\\p{L}\\p{N}]*");
  });
  const made = new RegExp(
    `(?<![\\p{L}\\p{N}])(?<!(?<![\\p{L}])(?:not|never) )(?:${choices.join("|")})(?![\\p{L}\\p{N}])`,
    "u",
  );
  patterns.set(words, made);
  return made;
}
