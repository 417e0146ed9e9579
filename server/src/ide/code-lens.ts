import type { Note, Range } from "../note/note.ts";
import type { History } from "../sequence/history.ts";
import { type NextStep, nextSteps } from "../sequence/next.ts";

/** A line shown above a steps block. What it says is worked out when it comes into view. */
export interface StepsLens {
  /** The fence's line. */
  readonly range: Range;
  /** Index into the note's blocks. */
  readonly block: number;
}

export function stepsLenses(note: Note): readonly StepsLens[] {
  return note.blocks.flatMap((block, index) =>
    block.kind === "steps" ? [{ range: block.info, block: index }] : [],
  );
}

/**
 * What is done and what is still to do in a block; under the last one also what comes next and what waits
 * until when. `history` is only asked for where that is said; it is undefined where the note names no procedure.
 */
export function lensText(note: Note, index: number, history: () => History | undefined): string | undefined {
  const block = note.blocks[index];
  if (block?.kind !== "steps") return undefined;
  let done = 0;
  let toDo = 0;
  for (const { syntax } of block.lines) {
    if (syntax.kind !== "step") continue;
    if (syntax.time.minutes === undefined) toDo++;
    else done++;
  }
  const parts = [`${done} done`, ...(toDo > 0 ? [`${toDo} to do`] : [])];
  const isLast = !note.blocks.slice(index + 1).some(({ kind }) => kind === "steps");
  const told = isLast && note.frontMatter.fields.status !== "done" ? history() : undefined;
  if (told) parts.push(...whatComes(told));
  return parts.join(" · ");
}

function whatComes(history: History): string[] {
  const { steps, unreachable } = nextSteps(history);
  const now = steps.filter(({ when }) => when === "now").map(plain);
  const waits = steps.filter(({ when }) => when === "wait");
  if (steps.length === 0 && unreachable.length === 0) return ["nothing left to do"];
  return [
    ...(now.length > 0 ? [`next: ${now.slice(0, 2).join(", ")}`] : []),
    ...waits.slice(0, 2).map((step) => `waits: ${plain(step)}${untilOf(step)}`),
  ];
}

const plain = ({ says }: NextStep): string => says.replaceAll("`", "");

/** "until 12:35" out of the reason, where it names a time. */
function untilOf({ because }: NextStep): string {
  const until = /\buntil (?:\d{4}-\d{2}-\d{2} )?\d{1,2}:\d{2}/.exec(because);
  return until ? ` ${until[0]}` : "";
}
