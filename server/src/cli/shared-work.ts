import { availableParallelism } from "node:os";
import { type MessagePort, Worker } from "node:worker_threads";
import type { FileChecker, FileOutcome } from "./file-checker.ts";
import type { Helpers } from "./outside.ts";
import type { ReportForm } from "./report-form.ts";

/**
 * Sharing the work on many notes among threads. The notes are dealt out in small parts; whoever is free
 * takes the next one, so a thread that starts late or is held up costs little. Results come out in order.
 */

/** What a thread is given. */
export interface Assignment {
  readonly paths: readonly string[];
  readonly folder: string;
  readonly form: ReportForm;
  /** One shared counter: the number of the next part that nobody has taken yet. */
  readonly next: SharedArrayBuffer;
}

/** What a thread gives back for each part. */
export interface PartDone {
  readonly part: number;
  readonly outcomes: readonly FileOutcome[];
}

const PART = 40;
const MOST_HELPERS = 3;

/** Takes parts until none is left. Run by each thread alike. */
export function* takeParts(checker: FileChecker, { paths, next }: Assignment): Generator<PartDone> {
  const counter = new Int32Array(next);
  for (;;) {
    const part = Atomics.add(counter, 0, 1);
    if (part * PART >= paths.length) return;
    yield { part, outcomes: checkPart(checker, paths, part) };
  }
}

function checkPart(checker: FileChecker, paths: readonly string[], part: number): FileOutcome[] {
  return paths.slice(part * PART, (part + 1) * PART).map((path) => checker.note(path));
}

/** Checks all notes and hands on their outcomes in the order of `paths`. */
export async function checkShared(
  checker: FileChecker,
  work: Omit<Assignment, "next">,
  helpers: Helpers | undefined,
  each: (path: string, outcome: FileOutcome) => void,
): Promise<void> {
  const { paths } = work;
  const assignment: Assignment = { ...work, next: new SharedArrayBuffer(4) };
  const parts = Math.ceil(paths.length / PART);
  const waiting = new Map<number, readonly FileOutcome[]>();
  let passedOn = 0;
  const done = ({ part, outcomes }: PartDone): void => {
    waiting.set(part, outcomes);
    for (let ready = waiting.get(passedOn); ready !== undefined; ready = waiting.get(passedOn)) {
      waiting.delete(passedOn);
      ready.forEach((outcome, index) => {
        each(paths[passedOn * PART + index] ?? "", outcome);
      });
      passedOn++;
    }
  };

  const running: Promise<void>[] = [];
  if (helpers !== undefined && paths.length >= helpers.from) {
    const count = Math.min(availableParallelism() - 1, MOST_HELPERS);
    for (let i = 0; i < count; i++) running.push(startHelper(helpers.script, assignment, done));
  }
  for (const part of takeParts(checker, assignment)) {
    done(part);
    // Lets in what the other threads have sent, so that results do not pile up.
    if (running.length > 0) await new Promise((resolve) => setImmediate(resolve));
  }
  await Promise.all(running);
  // A thread that could not start or broke off leaves parts undone; they are made good here.
  for (let part = passedOn; part < parts; part++) {
    if (!waiting.has(part)) done({ part, outcomes: checkPart(checker, paths, part) });
  }
}

/** Settles when the thread is through, well or not. */
function startHelper(script: string, assignment: Assignment, done: (part: PartDone) => void): Promise<void> {
  return new Promise((resolve) => {
    const worker = new Worker(script, { workerData: assignment });
    worker.on("message", done);
    worker.on("error", () => resolve());
    worker.on("exit", () => resolve());
  });
}

/** The work of a helping thread. */
export function help(checker: FileChecker, assignment: Assignment, port: MessagePort): void {
  for (const part of takeParts(checker, assignment)) port.postMessage(part);
}
