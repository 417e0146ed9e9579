import {
  CLAUSE_WORDS,
  FORMULA_WORDS,
  OUTCOME_WORDS,
  TRUTH_WORDS,
  UNIT_GOES_ON,
} from "../../../grammar/line-language.ts";
import { scaleSuffix } from "../units/unit-reader.ts";
import { fold, lookUp } from "../units/unit-table.ts";
import { UNIT_TRAPS } from "../units/unit-traps.ts";
import { knownSpellings } from "../units/unknown-unit.ts";
import type { Piece, Report } from "./piece.ts";

const LONGEST_NAME = 40;
const NAME = /^\p{L}[\p{L}_]*$/u;
/** Words that stand behind numbers in remarks and formulas and mean something else there. */
const RESERVED: ReadonlySet<string> = new Set([
  ...FORMULA_WORDS,
  ...CLAUSE_WORDS,
  ...OUTCOME_WORDS,
  ...Object.keys(TRUTH_WORDS),
  ...UNIT_GOES_ON.map((word) => word.toLowerCase()),
  ...["of", "to", "per", "x"],
]);

let small: ReadonlyMap<string, string> | undefined;

/** Every built-in spelling by its small letters. */
function inSmallLetters(): ReadonlyMap<string, string> {
  small ??= new Map([...knownSpellings()].reverse().map((known) => [known.toLowerCase(), known]));
  return small;
}

/** Whether a name may stand for a unit of the shop's own; reports it where not. */
export function isFreeUnitName(name: Piece, taken: ReadonlyMap<string, unknown>, report: Report): boolean {
  const { range, text: written } = name;
  const refuse = (message: string, advice: string): false => {
    report(range, message, advice);
    return false;
  };
  if (!NAME.test(written) || written.length > LONGEST_NAME) {
    return refuse(
      `\`${written}\` cannot be the name of a unit: a note could not tell where it ends.`,
      "Write one word of letters, such as `can` or `wash_bucket`; digits behind a unit are powers.",
    );
  }
  if (RESERVED.has(written.toLowerCase())) {
    return refuse(
      `\`${written}\` means something else behind a number, so it cannot be a unit.`,
      "Give the unit another name.",
    );
  }
  const folded = fold(written);
  const trap = UNIT_TRAPS.get(folded);
  if (trap) {
    return refuse(`\`${written}\` is left unread on purpose. ${trap.remark}`, "Give the unit another name.");
  }
  // A word of letters is a unit by itself, with a prefix, or with the letter of its scale (`psig`).
  if (lookUp(folded) || scaleSuffix(folded)) {
    return refuse(
      `\`${written}\` is a unit already, and a shop file cannot change what it means.`,
      "Give the unit another name.",
    );
  }
  const lower = folded.toLowerCase();
  const alike = inSmallLetters().get(lower);
  if (alike !== undefined) {
    return refuse(
      `\`${written}\` differs from the unit \`${alike}\` only by its capitals; one slip would change the value.`,
      "Give the unit a name that cannot be mistaken for another.",
    );
  }
  if ([...taken.keys()].some((other) => other.toLowerCase() === lower)) {
    return refuse(`\`${written}\` is there already.`, "Give one of the two units another name.");
  }
  return true;
}
