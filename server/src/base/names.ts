import type { Expression, Span } from "../language/syntax.ts";
import { findFunction, formulaFunctions } from "../physics/registry.ts";
import { nearest } from "../text/nearest.ts";
import type { Base } from "./base.ts";
import { readPeriod } from "./dates.ts";
import { FIELDS, isField } from "./fields.ts";
import { DURATION_QUESTION, QUESTIONS, questionOf } from "./questions.ts";

/** Why a condition cannot be asked, and what to do; the place counts from the condition's start. */
export interface Misread {
  readonly message: string;
  readonly advice: string;
  readonly at: Span;
  /** What was likely meant in that place, the likeliest first. */
  readonly instead?: readonly string[];
}

/**
 * The readings that a condition names, each once. A name that no note has is a slip of the asker's rather
 * than a question with the answer none, so it is said.
 */
export function checkNames(expression: Expression, base: Base): string[] | Misread {
  const names = new Set<string>();
  const wrong = look(expression, base, names);
  return wrong ?? [...names];
}

function look(node: Expression, base: Base, names: Set<string>): Misread | undefined {
  switch (node.kind) {
    case "number":
      return node.unit === undefined ? undefined : lookAtUnit(node.unit.text, node.unit.span, base);
    case "name":
      return lookAtName(node, base, names);
    case "call":
      return lookAtCall(node, base, names);
    case "negate":
    case "not":
      return look(node.operand, base, names);
    case "is":
      return look(node.subject, base, names) ?? look(node.text, base, names);
    case "binary":
      return lookAtDate(node) ?? look(node.left, base, names) ?? look(node.right, base, names);
    default:
      return undefined;
  }
}

function lookAtUnit(spelling: string, at: Span, base: Base): Misread | undefined {
  const reading = base.readUnit(spelling);
  // Where shops mean different things by it, each note is held against what its own shop means.
  if (reading.ok || base.knowsUnit(spelling)) return undefined;
  return {
    message: `\`${spelling}\` is no unit that is known here.`,
    ...offer(reading.nearest, "Write it as in the notes."),
    at,
  };
}

function lookAtName(
  { name, span }: Expression & { kind: "name" },
  base: Base,
  names: Set<string>,
): Misread | undefined {
  if (isField(name.key)) return undefined;
  if (base.named(name.key) !== undefined) {
    names.add(name.key);
    return undefined;
  }
  return {
    message: `No note has a reading or field called \`${name.text}\`.`,
    ...offer(
      nearest(name.key, [...base.names(), ...FIELDS], 3),
      'Words are written in quotes, as in `procedure is "lamp-moisture"`.',
    ),
    at: span,
  };
}

function lookAtCall(
  node: Expression & { kind: "call" },
  base: Base,
  names: Set<string>,
): Misread | undefined {
  const question = questionOf(node.name.key);
  if (question === undefined && findFunction(node.name.key) === undefined) {
    const known = [...QUESTIONS, DURATION_QUESTION, ...formulaFunctions].map((one) => one.name);
    return {
      message: `There is no function or question \`${node.name.text}\`.`,
      ...offer(
        nearest(node.name.key, known, 3),
        `The questions are ${[...QUESTIONS, DURATION_QUESTION].map(({ name }) => `\`${name}\``).join(", ")}.`,
      ),
      at: node.name.span,
    };
  }
  if (question !== undefined) {
    const [least, most] = question.takes;
    const words = node.args.every(
      ({ value }, i) =>
        value.kind === "text" ||
        (value.kind === "name" && (question.name === "has" || (question.name === "says" && i === 0))),
    );
    const alone = question.name === "says" && node.args.length === 1 && node.args[0]?.value.kind === "name";
    if (node.args.length < least || node.args.length > most || !words || alone) {
      return {
        message: `\`${question.name}\` is not asked like this.`,
        advice: `Write ${question.form}: ${question.says}.`,
        at: node.span,
      };
    }
  }
  for (const { value } of node.args) {
    const wrong = look(value, base, names);
    if (wrong) return wrong;
  }
  return undefined;
}

/** `date > "last week"`: a day has to be one. */
function lookAtDate({ left, right }: Expression & { kind: "binary" }): Misread | undefined {
  for (const [one, other] of [
    [left, right],
    [right, left],
  ] as const) {
    if (one.kind !== "name" || one.name.key !== "date" || other.kind === "name") continue;
    if (other.kind === "text" && readPeriod(other.text)) continue;
    return {
      message: "A date is compared with a day, a month or a year.",
      advice: 'Write it in quotes: `date >= "2031-03-04"`, `date >= "2031-03"` or `date == "2031"`.',
      at: other.span,
    };
  }
  return undefined;
}

function offer(near: readonly string[], otherwise: string): Pick<Misread, "advice" | "instead"> {
  if (near.length === 0) return { advice: otherwise };
  return { advice: `Did you mean ${near.map((name) => `\`${name}\``).join(" or ")}?`, instead: near };
}
