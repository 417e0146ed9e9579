import { plainWords, type Step } from "../procedures/procedure.ts";
import type { StepEvent } from "./events.ts";
import type { History } from "./history.ts";
import { saysOneOf } from "./words.ts";

/** What `cause` or `correction` claims and no step of the note stands behind. */
export interface Unsupported {
  readonly field: "cause" | "correction";
  readonly says: string;
  readonly advice: string;
}

/** What work is called when it is done, with the words that name its step. Everyday English. */
const WORK: readonly (readonly [said: readonly string[], step: readonly string[]])[] = [
  [
    ["sealed", "resealed", "rebonded", "glued"],
    ["seal", "reseal", "bond"],
  ],
  [
    ["replaced", "renewed", "swapped", "exchanged"],
    ["replace", "renew", "swap"],
  ],
  [
    ["repaired", "mended", "fixed", "soldered"],
    ["repair", "mend", "fix"],
  ],
  [
    ["tightened", "retightened"],
    ["tighten", "repair"],
  ],
  [
    ["cleaned", "degreased"],
    ["clean", "wipe"],
  ],
  [["dried"], ["dry"]],
  [["welded"], ["weld"]],
  [["cleared"], ["clear drains", "clear codes"]],
];

const FAULT = [
  "leak*",
  "split",
  "cracked",
  "crack",
  "hole",
  "seeps",
  "seeping",
  "loose",
  "open seam",
  "torn",
];

/** Pairs of which a part has one or the other. */
const SIDES: readonly (readonly [string, string])[] = [
  ["upper", "lower"],
  ["left", "right"],
  ["front", "rear"],
  ["inner", "outer"],
  ["inside", "outside"],
  ["top", "bottom"],
];

export function* unsupported(history: History): Iterable<Unsupported> {
  const { cause, correction } = history.grounds.note.frontMatter.fields;
  if (cause !== undefined) yield* unsupportedCause(cause, history);
  if (correction !== undefined) yield* unsupportedWork(correction, history);
}

function* unsupportedWork(text: string, { grounds, events }: History): Iterable<Unsupported> {
  const { steps } = grounds.procedure;
  const done = new Set(events.done.map(({ step }) => step));
  for (const [said, names] of WORK) {
    if (!saysOneOf(text, said)) continue;
    const means = (step: Step) =>
      [step.name, ...step.aliases].some((name) => names.includes(plainWords(name)));
    const known = steps.filter(means);
    // Work that this procedure has no step for is written in free words.
    if (known.length === 0 || known.some((step) => done.has(step))) continue;
    const word = said.find((one) => saysOneOf(text, [one])) ?? said[0] ?? "";
    yield {
      field: "correction",
      says: `\`correction\` says “${word}”, and no \`${known[0]?.name ?? ""}\` stands among the steps done.`,
      advice: "Write down the step as it was done, or say in `correction` what really was.",
    };
  }
}

function* unsupportedCause(text: string, history: History): Iterable<Unsupported> {
  if (!saysOneOf(text, FAULT)) return;
  const { done } = history.events;
  const shown = done.filter(({ outcome }) => outcome === "found" || outcome === "fail");
  if (shown.length === 0) {
    const measured = done.some(({ syntax }) => syntax.quantities.length > 0);
    if (measured && !history.grounds.procedure.steps.some(({ outcome }) => outcome === "found or none"))
      return;
    yield {
      field: "cause",
      says: "`cause` names a leak, and no step says that it was found.",
      advice:
        "Write down the step that found it, as in `locate [place]: found`, or say in `cause` what is only supposed.",
    };
    return;
  }
  const placed = shown.filter(({ place }) => place !== undefined);
  if (placed.length === 0 || placed.some((event) => agrees(text, event))) return;
  const places = [...new Set(placed.map(({ placed: { syntax } }) => `[${syntax.place?.text ?? ""}]`))];
  yield {
    field: "cause",
    says: `\`cause\` names another place than the steps do: they found ${places.join(", ")}.`,
    advice: "Name the same place in both, so that the next reader finds it.",
  };
}

/** Whether a text can be about an event's place: they share a word, and do not name opposite sides. */
function agrees(text: string, { place, remark }: StepEvent): boolean {
  const words = new Set(wordsOf(`${place ?? ""} ${remark}`));
  const said = wordsOf(text);
  const against = SIDES.some(
    ([a, b]) =>
      (said.includes(a) && !said.includes(b) && words.has(b) && !words.has(a)) ||
      (said.includes(b) && !said.includes(a) && words.has(a) && !words.has(b)),
  );
  return !against && said.some((word) => words.has(word));
}

/** Words long enough to name something, without their plural. */
const wordsOf = (text: string): readonly string[] =>
  plainWords(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word.length > 2)
    .map((word) => word.replace(/s$/, ""));
