import { availableParallelism } from "node:os";
import { type MessagePort, Worker } from "node:worker_threads";
import type { Helpers } from "./outside.ts";
import type { ReportForm } from "./report-form.ts";
import type { SitePlan } from "./site-pages.ts";

/**
 * Sharing the work on many notes among threads. The notes are dealt out in small parts; whoever is free
 * takes the next one, so a thread that starts late or is held up costs little. Results come out in order.
 */

/** Does one note's part of the work. What comes of it is plain data, since it may come from another thread. */
export interface NoteWorker<T> {
  note(path: string): T;
}

/**
 * What is to be done: notes are checked where a form for the report is given, written as pages of a site where
 * a plan for that is given, else put into the index.
 */
export interface Work {
  readonly paths: readonly string[];
  readonly folder: string;
  readonly form?: ReportForm;
  readonly site?: SitePlan;
  /** Whether what comes of a note is to be kept, and so needs a key. */
  readonly keyed?: boolean;
}

/** What a thread is given. */
export interface Assignment extends Work {
  /** One shared counter: the number of the next part that nobody has taken yet. */
  readonly next: SharedArrayBuffer;
}

/** What a thread gives back for each part. */
export interface PartDone<T> {
  readonly part: number;
  readonly outcomes: readonly T[];
}

const PART = 40;
const MOST_HELPERS = 3;

/** Takes parts until none is left. Run by each thread alike. */
function* takeParts<T>(worker: NoteWorker<T>, { paths, next }: Assignment): Generator<PartDone<T>> {
  const counter = new Int32Array(next);
  for (;;) {
    const part = Atomics.add(counter, 0, 1);
    if (part * PART >= paths.length) return;
    yield { part, outcomes: doPart(worker, paths, part) };
  }
}

function doPart<T>(worker: NoteWorker<T>, paths: readonly string[], part: number): T[] {
  return paths.slice(part * PART, (part + 1) * PART).map((path) => worker.note(path));
}

/** Says whether the work is to be broken off. */
export interface Stop {
  readonly wanted: boolean;
}

/**
 * Works on all notes and hands on what comes of them in the order of `paths`. Where it is stopped, or the work
 * here throws, it comes back when no thread is at work any more, so that nothing is written after that.
 */
export async function shareWork<T>(
  worker: NoteWorker<T>,
  work: Work,
  helpers: Helpers | undefined,
  each: (path: string, outcome: T) => void,
  stop?: Stop,
): Promise<void> {
  const { paths } = work;
  const assignment: Assignment = { ...work, next: new SharedArrayBuffer(4) };
  const parts = Math.ceil(paths.length / PART);
  const waiting = new Map<number, readonly T[]>();
  let passedOn = 0;
  const done = ({ part, outcomes }: PartDone<T>): void => {
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
  try {
    for (const part of takeParts(worker, assignment)) {
      done(part);
      // Lets in what the other threads have sent, so that results do not pile up, and a wish to stop.
      if (running.length > 0 || stop !== undefined) await new Promise((resolve) => setImmediate(resolve));
      if (stop?.wanted) break;
    }
  } finally {
    // No thread takes a further part.
    Atomics.store(new Int32Array(assignment.next), 0, parts);
    await Promise.all(running);
  }
  // A thread that could not start or broke off leaves parts undone; they are made good here.
  for (let part = passedOn; part < parts && !stop?.wanted; part++) {
    if (!waiting.has(part)) done({ part, outcomes: doPart(worker, paths, part) });
  }
}

/** Settles when the thread is through, well or not. */
function startHelper<T>(
  script: string,
  assignment: Assignment,
  done: (part: PartDone<T>) => void,
): Promise<void> {
  return new Promise((resolve) => {
    // Little of what a note needs outlives it, so a small room for what is new costs no time and spares memory.
    // A bound on the rest, which no note comes near, makes the engine tidy up earlier: that takes a twentieth
    // more time, and a third off the memory of an index. Beyond it the thread breaks off, which is made good.
    const bound = assignment.form === undefined ? { maxOldGenerationSizeMb: 512 } : {};
    const worker = new Worker(script, {
      workerData: assignment,
      resourceLimits: { maxYoungGenerationSizeMb: 8, ...bound },
    });
    worker.on("message", done);
    worker.on("error", () => resolve());
    worker.on("exit", () => resolve());
  });
}

/** The work of a helping thread. */
export function help<T>(worker: NoteWorker<T>, assignment: Assignment, port: MessagePort): void {
  for (const part of takeParts(worker, assignment)) port.postMessage(part);
}
