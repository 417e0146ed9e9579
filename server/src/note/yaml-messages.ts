import type { ErrorCode } from "yaml";
import type { YamlProblem } from "./yaml-tree.ts";

const NOT_SET_IN = "This line is not set in like the lines it belongs with.";
const SAME_COLUMN = "Start keys that belong together in the same column.";
const QUOTES = "Put the whole value in quotes: `key: 'value'`.";

/**
 * What the YAML library reports, in a technician's words.
 *
 * @param text where the mistake is
 * @param code the library's code for it
 * @param said the library's own sentence; only ever used to tell two mistakes with one code apart
 */
export function sayYamlError(
  text: string,
  code: ErrorCode,
  said: string,
  start: number,
  end: number,
): YamlProblem {
  const from = Math.min(start, text.length);
  const break_ = /\r?\n/.exec(text.slice(from));
  const lineEnd = break_ ? from + break_.index : text.length;
  const rest = text.slice(from, lineEnd);
  const until = Math.max(from, Math.min(end, lineEnd));
  const at = (to: number, message: string, advice: string): YamlProblem => ({
    range: { from, to },
    message,
    advice,
  });
  switch (code) {
    case "TAB_AS_INDENT":
      return at(until, "A tab sets this line in; YAML allows only blanks.", "Replace the tab by blanks.");
    case "BLOCK_AS_IMPLICIT_KEY":
      if (/^\?\s/.test(rest))
        return at(lineEnd, "A value cannot start with a question mark and a blank.", QUOTES);
      return /:(\s|$)/.test(rest)
        ? at(lineEnd, "This value has a colon and a blank in it, which starts another key.", QUOTES)
        : at(lineEnd, "The line below is set in as if it belonged to this value.", SAME_COLUMN);
    case "MULTILINE_IMPLICIT_KEY":
      return /^[^\s:]+:\S/.test(rest)
        ? at(lineEnd, "The colon needs a blank after it.", "Write `key: value`.")
        : at(
            lineEnd,
            "This line is no `key: value`.",
            "Write a key, a colon and a blank first, or delete the line.",
          );
    case "BAD_DQ_ESCAPE":
      return at(
        lineEnd,
        `In double quotes, \`${text.slice(from, from + 2)}\` stands for a special character that does not exist.`,
        "Use single quotes around the value, or write the backslash twice.",
      );
    case "BAD_SCALAR_START":
      return at(until, `A value cannot start with "${text.slice(from, until)}".`, QUOTES);
    case "BAD_INDENT":
      return at(lineEnd, NOT_SET_IN, SAME_COLUMN);
    case "RESOURCE_EXHAUSTION":
      return at(until, "This is nested too deeply to be read.", "Flatten it: a few levels are enough.");
    case "MISSING_CHAR":
      return at(until, "A colon with a blank after it is missing here.", "Write `key: value`.");
    default:
      break;
  }
  if (/block-seq/.test(said)) {
    return at(lineEnd, "A dash and a blank start a list, which cannot stand on the line of its key.", QUOTES);
  }
  if (/Block scalar|Not a YAML token/.test(said)) {
    return at(lineEnd, "A value that starts with `>` or `|` is text that begins on the next line.", QUOTES);
  }
  if (/node end|Unexpected scalar token$/.test(said)) {
    if (!/["'\]}]\s*$/.test(text.slice(0, from))) return at(lineEnd, NOT_SET_IN, SAME_COLUMN);
    return at(
      lineEnd,
      "Something follows after the closing quote or bracket.",
      "Put the whole value in quotes, or delete what follows.",
    );
  }
  return at(Math.max(until, Math.min(from + 1, lineEnd)), "This cannot be read here.", QUOTES);
}
