import { FORMULA_WORDS, SIGNS, TRUTH_WORDS } from "../../../grammar/line-language.ts";
import { readFormula } from "./formula.ts";
import { readMeasured } from "./measured-value.ts";
import { decimalCommaProblem, leftoverProblem, syntaxProblem } from "./problems.ts";
import {
  commentStart,
  decimalsShown,
  readName,
  readNumber,
  readUnitText,
  skipBlanks,
  trimEnd,
} from "./scanner.ts";
import type { Comment, LineProblem, Name, ReadingsLine, Recorded, UnitText } from "./syntax.ts";

/** `name: value` or `name = formula`. */
export function readReadingsLine(text: string): ReadingsLine {
  const end = commentStart(text);
  const comment = commentOf(text, end);
  const extra = comment ? { comment } : {};
  const start = skipBlanks(text, 0);
  const to = trimEnd(text, start, end);
  if (start >= to) return { kind: "empty", problems: [], ...extra };

  const name = readName(text, start, false, to);
  if (!name) return { kind: "broken", problems: [noNameProblem(text, start, to)], ...extra };

  const taken = takenNameProblem(text, name);
  if (taken) return { kind: "broken", name, problems: [taken], ...extra };

  let at = skipBlanks(text, name.span.to);
  const bracketed = text[at] === "[" ? readDisplayUnit(text, at, to) : undefined;
  if (bracketed && "rule" in bracketed) return { kind: "broken", name, problems: [bracketed], ...extra };
  if (bracketed) at = skipBlanks(text, bracketed.end);
  const displayUnit = bracketed?.unit ? { displayUnit: bracketed.unit } : {};

  if (at < to && text[at] === "=" && text[at + 1] !== "=") {
    return { ...readDefinition(text, name, at + 1, to), ...displayUnit, ...extra };
  }
  if (at < to && text[at] === ":") {
    const measured = readMeasured(text, skipBlanks(text, at + 1), to);
    if (!measured.value) return { kind: "broken", name, sign: ":", problems: measured.problems, ...extra };
    return { kind: "measured", name, ...displayUnit, ...measured, value: measured.value, ...extra };
  }
  return { kind: "broken", name, problems: [noSignProblem(text, name, at, to)], ...extra };
}

export function commentOf(text: string, from: number): Comment | undefined {
  if (from >= text.length) return undefined;
  return { span: { from, to: text.length }, text: text.slice(from + 1).trim() };
}

const formulaWords = new Set<string>(FORMULA_WORDS);

/** What every taken name holds; nearly all names are let through by it. */
const MAY_BE_TAKEN = new RegExp(
  `(?:^| )(?:${[...FORMULA_WORDS, ...Object.keys(TRUTH_WORDS)].join("|")})(?: |$)`,
);

/** A name that no formula could use, as its words mean something else there. */
export function takenNameProblem(text: string, name: Name): LineProblem | undefined {
  if (!MAY_BE_TAKEN.test(name.key)) return undefined;
  const words = [...text.slice(name.span.from, name.span.to).matchAll(/[^ \t\u00a0]+/g)];
  const isTaken = (word: string) =>
    formulaWords.has(word) || (words.length === 1 && Object.hasOwn(TRUTH_WORDS, word));
  const word = words.find(([written]) => isTaken(written.toLowerCase()));
  if (!word) return undefined;
  const from = name.span.from + word.index;
  return syntaxProblem(
    { from, to: from + word[0].length },
    `\`${word[0]}\` cannot stand in a name: formulas give it a meaning of their own.`,
    "Choose another word, or join the words by hyphens, as in `drain-and-refill`.",
  );
}

/** `| flow | 0.42 | L/min |` of a pasted table. */
const TABLE_ROW = /^\|[ \t]*([^|]+?)[ \t]*\|[ \t]*([-+−]?\.?\d[^|]*?)[ \t]*(?:\|[ \t]*([^|]*?)[ \t]*)?\|?$/;

function tableProblem(text: string, start: number, to: number): LineProblem {
  const span = { from: start, to };
  const problem = syntaxProblem(
    span,
    "A row of a table stands here.",
    "Write each reading on a line of its own, as in `flow: 0.42 L/min`, and leave the table's head out.",
  );
  const [, name, value, unit = ""] = TABLE_ROW.exec(text.slice(start, to)) ?? [];
  if (name === undefined || value === undefined) return problem;
  const line = `${name}: ${value} ${unit}`.trimEnd();
  return { ...problem, fixes: [{ title: `Write ${line}`, span, text: line }] };
}

function noNameProblem(text: string, start: number, to: number): LineProblem {
  if (text[start] === "|") return tableProblem(text, start, to);
  return syntaxProblem(
    { from: start, to },
    "This line does not start with a name.",
    "Write `name: value unit` for something read, or `name = formula` for something worked out. " +
      `Put plain remarks outside the block or after \` # \`.${/^[-*•]/.test(text.slice(start)) ? " Leave the list mark out." : ""}`,
  );
}

function noSignProblem(text: string, name: Name, at: number, to: number): LineProblem {
  const stray = at < to ? text.slice(at, at + 1) : "";
  const problem = syntaxProblem(
    { from: name.span.from, to: at < to ? at + 1 : name.span.to },
    stray ? `\`${stray}\` cannot stand in a name.` : `\`${name.text}\` has no value yet.`,
    "Write a colon and what was read, or an equals sign and a formula.",
  );
  // `test pressure 0.8 psi`: the colon can only belong before the number.
  const number = /^(.*?[^\s])\s+[-+−]?(?:\d|\.\d)/u.exec(text.slice(name.span.from, to));
  if (!number) return problem;
  const [, before = ""] = number;
  const colonAt = name.span.from + before.length;
  return {
    ...syntaxProblem(
      { from: name.span.from, to: colonAt },
      `\`${before}\` has no colon behind it.`,
      "Write a colon between the name and what was read, as in `flow: 0.4 L/min`.",
    ),
    fixes: [{ title: "Put a colon before the number", span: { from: colonAt, to: colonAt }, text: ":" }],
  };
}

function readDisplayUnit(
  text: string,
  open: number,
  to: number,
): { unit?: UnitText; end: number } | LineProblem {
  const close = text.indexOf("]", open);
  // A unit may itself hold brackets ([psi]); the one that closes is the last before the sign.
  let last = close;
  while (last >= 0 && last < to && !":=".includes(text.charAt(skipBlanks(text, last + 1)) || " "))
    last = text.indexOf("]", last + 1);
  const end = last >= 0 && last < to ? last : close;
  if (end < 0 || end >= to) {
    return syntaxProblem(
      { from: open, to: open + 1 },
      "This bracket is never closed.",
      "Close the unit with `]`.",
    );
  }
  const from = skipBlanks(text, open + 1);
  const until = trimEnd(text, from, end);
  if (from >= until) return { end: end + 1 };
  return { unit: { span: { from, to: until }, text: text.slice(from, until) }, end: end + 1 };
}

// ---- Formulas ---------------------------------------------------------------------------------------

function readDefinition(text: string, name: Name, from: number, to: number): ReadingsLine {
  const problems: LineProblem[] = [];
  const start = skipBlanks(text, from);
  if (start >= to) {
    problems.push(
      syntaxProblem(
        { from: from - 1, to: from },
        "Nothing stands after the equals sign.",
        "Write a formula, as in `test pressure * lens area`.",
      ),
    );
    return { kind: "broken", name, sign: "=", problems };
  }
  const { expression, end } = readFormula(text, start, to, problems);
  const sign = SIGNS.recorded.find((s) => text.startsWith(s, end));
  const recorded = sign
    ? readRecorded(text, skipBlanks(text, end + sign.length), to, end, problems)
    : undefined;
  if (!sign && end < to && problems.length === 0) {
    problems.push(leftoverInFormula(text, end, to));
  }
  return { kind: "formula", name, formula: expression, problems, ...(recorded ? { recorded } : {}) };
}

function leftoverInFormula(text: string, end: number, to: number): LineProblem {
  if (SIGNS.tolerance.some((s) => text.startsWith(s, end))) {
    return syntaxProblem(
      { from: end, to },
      "A formula takes no `±`: its uncertainty follows from what it is worked out from.",
      "Put `±` behind the measured values instead.",
    );
  }
  if (text[end] === ")") {
    return syntaxProblem(
      { from: end, to: end + 1 },
      "This bracket closes nothing.",
      "Take it away, or add the bracket that opens it.",
    );
  }
  if (text[end] === ",") {
    return syntaxProblem(
      { from: end, to: end + 1 },
      "A comma stands in the middle of a formula.",
      "Write a decimal point in numbers; commas only separate a function's arguments.",
    );
  }
  const word = text.slice(end, to).split(/\s/)[0] ?? "";
  return syntaxProblem(
    { from: end, to: end + Math.max(1, word.length) },
    `No sign stands before \`${word}\`.`,
    "Write `*` to multiply, or another sign between the two values.",
  );
}

function readRecorded(
  text: string,
  from: number,
  to: number,
  signAt: number,
  problems: LineProblem[],
): Recorded | undefined {
  const negative = text[from] === "-" || text[from] === "−";
  const at = negative ? from + 1 : from;
  const number = from < to ? readNumber(text, at) : undefined;
  const comma = number ? decimalCommaProblem(text, number, to) : undefined;
  if (!number || comma) {
    if (problems.length === 0) {
      problems.push(
        comma?.problem ??
          syntaxProblem(
            { from: signAt, to },
            "No number stands after the sign for a recorded result.",
            "Record the result, as in `≈ 171 N`, or take the sign away.",
          ),
      );
    }
    return undefined;
  }
  const unit = readUnitText(text, number.span.to);
  const kept = unit && unit.span.to <= to ? unit : undefined;
  const end = kept?.span.to ?? number.span.to;
  const after = skipBlanks(text, end);
  if (after < to && problems.length === 0)
    problems.push(leftoverProblem(text, after, to, "a recorded result"));
  return {
    span: { from, to: end },
    number: negative ? { ...number, value: -number.value } : number,
    decimals: decimalsShown(text.slice(number.span.from, number.span.to)),
    ...(kept ? { unit: kept } : {}),
  };
}
