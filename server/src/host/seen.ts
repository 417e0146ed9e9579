import { existsSync, statSync } from "node:fs";
import { relative, resolve } from "node:path";
import { filePartOf } from "../note/prose-links.ts";
import type { LogReading, LogRequest } from "../note/series-log.ts";

/**
 * What was seen of a file beside a note: whether it is there, and for a log its size and time. A result that
 * is kept holds only while all this is as it was.
 */
export interface Seen {
  /** From the note's folder. */
  readonly path: string;
  readonly stamp: string;
}

const GONE = "gone";
const THERE = "there";
/** What no file looks like, so a result that rests on it is worked out anew next time. */
const CHANGING = "changing";

export const stillAsSeen = (folder: string, seen: readonly Seen[]): boolean =>
  seen.every(({ path, stamp }) => {
    const full = resolve(folder, path);
    return stamp === (stamp === GONE || stamp === THERE ? presence(full) : stampOf(full));
  });

/** Notes down what is looked at while one note is analyzed. */
export class Watch {
  #folder = "";
  #seen: Seen[] = [];

  /** Begins anew, for a note in this folder. */
  start(folder: string): void {
    this.#folder = folder;
    this.#seen = [];
  }

  get seen(): readonly Seen[] {
    return this.#seen;
  }

  exists(path: string): boolean {
    const stamp = presence(path);
    this.#seen.push({ path: relative(this.#folder, path), stamp });
    return stamp === THERE;
  }

  log({ path }: LogRequest, folder: string, read: () => LogReading): LogReading {
    const full = resolve(folder, filePartOf(path) ?? path);
    const before = stampOf(full);
    const reading = read();
    const settled = before === stampOf(full) && isSettled(full);
    this.#seen.push({ path: relative(folder, full), stamp: settled ? before : CHANGING });
    return reading;
  }
}

const presence = (path: string): string => (existsSync(path) ? THERE : GONE);

/** With the time of the last change of any kind, which a copy that keeps its time of writing does not keep. */
function stampOf(path: string): string {
  try {
    const { size, mtimeMs, ctimeMs } = statSync(path);
    return `${size} ${mtimeMs} ${ctimeMs}`;
  } catch {
    return "none";
  }
}

/** Some file systems tell times to two seconds only, so that a change of the same length may leave no trace. */
const COARSEST_TICK = 2000;

function isSettled(path: string): boolean {
  try {
    const { mtimeMs, ctimeMs } = statSync(path);
    return Math.abs(Date.now() - Math.max(mtimeMs, ctimeMs)) > COARSEST_TICK;
  } catch {
    return true;
  }
}
