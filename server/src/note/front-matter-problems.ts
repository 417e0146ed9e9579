import { nearest } from "../text/nearest.ts";
import { daysMeant } from "../text/real-day.ts";
import type { FieldProblem } from "./front-matter.ts";
import { FRONT_MATTER_KEYS, OUTCOMES, STATUSES, VEHICLE_KEYS } from "./front-matter-schema.ts";
import type { Range } from "./note.ts";
import type { YamlMap, YamlNode } from "./yaml-tree.ts";
import { keyRangeAt, nodeAt } from "./yaml-values.ts";

type Fixes = FieldProblem["fixes"];

/** What the schema says about a front matter; its sentences are ours, from path and kind alone. */
export interface SchemaIssue {
  readonly code?: string | undefined;
  readonly path: PropertyKey[];
  readonly keys?: string[] | undefined;
}

/** Turns the schema's issues into findings, and adds what no schema of single keys can tell. */
export function fieldProblems(
  tree: YamlMap,
  issues: readonly SchemaIssue[],
  endOfLine: string,
): FieldProblem[] {
  const problems: FieldProblem[] = [];
  for (const issue of issues) {
    if (issue.code === "unrecognized_keys") {
      for (const key of issue.keys ?? []) {
        if (!key.startsWith("x-")) problems.push(unknownKey(tree, issue.path, key));
      }
    } else {
      problems.push(wrongForm(tree, issue.path));
    }
  }
  const job = tree.entries.find((entry) => entry.key === "job");
  if (job && isEmpty(job.value)) {
    const advice = "Write the job's number behind it, as on the work order.";
    problems.push({ range: job.keyRange, message: "`job:` has no number.", advice, fixes: [] });
  }
  const status = tree.entries.find((entry) => entry.key === "status")?.value;
  const outcome = tree.entries.find((entry) => entry.key === "outcome")?.value;
  if (status?.kind === "scalar" && status.source === "done" && (!outcome || isEmpty(outcome))) {
    problems.push(doneWithoutOutcome(status.range, outcome?.range, endOfLine));
  }
  return problems.sort((a, b) => a.range.from - b.range.from);
}

const isEmpty = (node: YamlNode): boolean => node.kind === "scalar" && node.value === null;

function unknownKey(tree: YamlMap, path: PropertyKey[], key: string): FieldProblem {
  const inVehicle = path[0] === "vehicle";
  const parent = nodeAt(tree, path);
  const present = parent?.kind === "map" ? parent.entries.map((entry) => entry.key) : [];
  const known = (inVehicle ? VEHICLE_KEYS : FRONT_MATTER_KEYS).filter((k) => !present.includes(k));
  const near = nearest(key, known, 2);
  const range = keyRangeAt(tree, [...path, key]);
  const moved = !inVehicle && VEHICLE_KEYS.includes(key) ? ` It belongs inside \`vehicle\`.` : "";
  const own = "A key of your own starts with `x-`.";
  return {
    range,
    message: `\`${key}\` is no key of ${inVehicle ? "a vehicle" : "a job note"}, so nothing reads it.${moved}`,
    advice: near[0] ? `Perhaps \`${near[0]}\` is meant. ${own}` : moved ? own : `Remove it. ${own}`,
    fixes: near.map((name) => ({ title: `Change to \`${name}\``, range, text: name })),
  };
}

function wrongForm(tree: YamlMap, path: PropertyKey[]): FieldProblem {
  const field = String(path[0]);
  const part = field === "vehicle" ? path[1] : undefined;
  const node = nodeAt(tree, part === undefined ? [field] : [field, part]);
  const range = node?.range ?? keyRangeAt(tree, path);
  const shown = node?.kind === "scalar" ? node.source : "";
  const one = (message: string, advice: string, fixes: Fixes = []): FieldProblem => ({
    range,
    message,
    advice,
    fixes,
  });

  if (part === "year" && node?.kind === "scalar") {
    return one(`The model year \`${short(shown)}\` is no year.`, "Write four digits, such as 2024.");
  }
  if (field === "vehicle" && part === undefined) {
    const plain = node?.kind === "scalar" && !/[,[\]{}:#&*!|>'"%@`]/.test(shown) && shown.trim() !== "";
    return one(
      "`vehicle` takes keys of its own, not a text.",
      "Write `vehicle: { description: …, year: …, odometer: … }`.",
      plain ? [{ title: "Make it the description", range, text: `{ description: ${shown} }` }] : [],
    );
  }
  if (node?.kind === "scalar") {
    if (field === "date") return wrongDate(range, shown);
    if (field === "status") return wrongChoice("status", range, shown, STATUSES, STATUS_WORDS);
    if (field === "outcome") return wrongChoice("outcome", range, shown, OUTCOMES, OUTCOME_WORDS);
  }
  const name = part === undefined ? field : `${field}, ${String(part)}`;
  const form = FORMS[field] ?? "a text";
  return one(
    `\`${name}\` takes ${form}.`,
    "Write it on one line behind the colon, in quotes if it has brackets or colons.",
  );
}

const FORMS: Readonly<Record<string, string>> = {
  date: "a day, such as 2031-03-04",
  status: "`open` or `done`",
  outcome: "one of a few words",
  parts: "a text or a list of texts",
  source: "a text or a list of texts",
  photos: "a text or a list of texts",
  tags: "a text or a list of texts",
};

function wrongDate(range: Range, shown: string): FieldProblem {
  const days = daysMeant(shown);
  const fixes = days.map((day) => ({ title: `Change to ${day}`, range, text: day }));
  const advice = "Write year, month and day: 2031-03-04.";
  if (/^\d{4}-\d\d-\d\d$/.test(shown)) {
    return {
      range,
      message: `${shown} is no day of the calendar.`,
      advice: "Look up the day and correct it.",
      fixes,
    };
  }
  const which = days.length > 1 ? " It can be read as two different days." : "";
  return { range, message: `\`${short(shown)}\` is not read as a day.${which}`, advice, fixes };
}

/** Words in daily use for a state, with the one that the note has for it. */
const STATUS_WORDS: Readonly<Record<string, string>> = {
  closed: "done",
  finished: "done",
  complete: "done",
  completed: "done",
  "in progress": "open",
  pending: "open",
  waiting: "open",
};
const OUTCOME_WORDS: Readonly<Record<string, string>> = {
  fixed: "repaired",
  sealed: "repaired",
  repair: "repaired",
  exchanged: "replaced",
  renewed: "replaced",
  nff: "no fault found",
  "no fault": "no fault found",
  refused: "declined",
  diagnosed: "diagnosis only",
  diagnosis: "diagnosis only",
};

function wrongChoice(
  field: string,
  range: Range,
  shown: string,
  choices: readonly string[],
  words: Readonly<Record<string, string>>,
): FieldProblem {
  const meant = Object.hasOwn(words, shown.toLowerCase()) ? words[shown.toLowerCase()] : undefined;
  const near = meant ? [meant] : nearest(shown, choices, 1);
  const offered = near.length > 0 ? near : choices;
  const list = `${choices.slice(0, -1).join(", ")} or ${choices.at(-1)}`;
  return {
    range,
    message: `The ${field} is ${list}, not \`${short(shown)}\`.`,
    advice: near[0]
      ? `Perhaps \`${near[0]}\` is meant.`
      : "Choose one of these; the checks at the end of a job rest on it.",
    fixes: offered.map((choice) => ({ title: `Change to \`${choice}\``, range, text: choice })),
  };
}

function doneWithoutOutcome(status: Range, outcome: Range | undefined, endOfLine: string): FieldProblem {
  const fixes = OUTCOMES.map((choice) => ({
    title: `Outcome: ${choice}`,
    // The range of an empty `outcome:` is right after its key, and the colon follows.
    range: outcome ? { from: outcome.to, to: outcome.to + 1 } : { from: status.to, to: status.to },
    text: outcome ? `: ${choice}` : `${endOfLine}outcome: ${choice}`,
  }));
  return {
    range: status,
    message: "The job is done, but nothing says how it ended.",
    advice: `Add \`outcome:\` with one of ${OUTCOMES.join(", ")}; what the job must end with depends on it.`,
    fixes,
  };
}

const short = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text);
