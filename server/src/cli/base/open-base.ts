import { dirname } from "node:path";
import { Base } from "../../base/base.ts";
import { parseRecord } from "../../base/parse-record.ts";
import type { NoteRecord } from "../../base/record.ts";
import { openPack, rootOf } from "../../host/cache-place.ts";
import { findTexts } from "../../host/find-texts.ts";
import type { Libraries } from "../../host/libraries.ts";
import type { Pack } from "../../host/pack.ts";
import { stillAsSeen } from "../../host/seen.ts";
import { harmless } from "../../report/display-width.ts";
import { Interruption } from "../interruption.ts";
import { shownPath } from "../note-reader.ts";
import type { Outside } from "../outside.ts";
import { shareWork } from "../shared-work.ts";
import { type Indexed, Indexer } from "./indexer.ts";
import { Progress } from "./progress.ts";

export interface OpenedBase {
  readonly base: Base;
  /** Whether something that was asked for could not be read; it was said. */
  readonly failed: boolean;
}

/** Below so many notes, reading them is as fast as looking them up. */
const CACHE_FROM = 20;

/** What reading many notes takes from the world around it. */
export type Surroundings = Pick<Outside, "folder" | "err" | "helpers" | "cache" | "progress"> & {
  readonly libraries: Libraries;
};

/** After so many notes that are known already a signal is let in. */
const BREATH = 500;

/**
 * Reads a folder's notes into a base: what did not change since last time comes from the cache. Undefined when it
 * was stopped by Ctrl-C, which it says; what was read by then is kept for the next time.
 */
export async function openBase(
  asked: readonly string[],
  quiet: boolean,
  outside: Surroundings,
): Promise<OpenedBase | undefined> {
  const stop = new Interruption();
  try {
    const opened = await readAll(asked, quiet, outside, stop);
    if (opened === undefined) outside.err("Stopped before all notes were read.\n");
    return opened;
  } finally {
    stop.end();
  }
}

async function readAll(
  asked: readonly string[],
  quiet: boolean,
  outside: Surroundings,
  stop: Interruption,
): Promise<OpenedBase | undefined> {
  const { folder, libraries, helpers, cache } = outside;
  const found = findTexts(asked.length === 0 ? ["."] : asked, folder);
  let failed = false;
  const fail = (path: string, reason: string): void => {
    failed = true;
    outside.err(`${harmless(path)} ${reason}.\n`);
  };
  for (const { path, reason } of found.failures) fail(path, reason);

  const { notes: paths } = found;
  const first = paths[0];
  const pack =
    cache && first !== undefined && paths.length >= CACHE_FROM
      ? openPack(cache, "records", rootOf(dirname(first)))
      : undefined;
  const indexer = new Indexer(folder, libraries);
  const records = new Map<string, NoteRecord>();
  // Read out when all work is done and the helping threads are gone. Until then they lie in the cache's file,
  // under their keys, or else as bytes outside of what is tidied up again and again.
  const written = new Map<string, string | Buffer>();
  const progress = new Progress("Reading notes", paths.length, quiet ? undefined : outside.progress);

  const take = (path: string, { noJob, unreadable, failure }: Indexed): void => {
    progress.step();
    const shown = shownPath(path, folder);
    if (failure !== undefined) fail(shown, failure);
    else if (noJob && found.named.has(path)) {
      if (unreadable !== undefined) fail(shown, unreadable);
      else outside.err(`${harmless(shown)} is no job note: its front matter has no \`job:\`.\n`);
    }
  };

  const readOut = (path: string, record: string | undefined): void => {
    if (record !== undefined) records.set(path, parseRecord(record, shownPath(path, folder)));
  };

  const missing: string[] = [];
  for (const [index, path] of paths.entries()) {
    const known = pack && pack.size > 0 ? fromPack(pack, indexer.key(path), dirname(path)) : undefined;
    if (known === undefined) missing.push(path);
    else {
      take(path, known);
      readOut(path, known.record);
    }
    if (progress.due) progress.draw();
    if (index % BREATH === 0 && !(await stop.goesOn())) break;
  }
  const each = (path: string, indexed: Indexed): void => {
    take(path, indexed);
    if (progress.due) progress.draw();
    const { key, record, seen } = indexed;
    if (pack && key !== undefined) pack.set(key, toEntry(indexed));
    // Two notes of the same text have one key, and may have other files beside them.
    const kept = pack && seen === undefined ? key : undefined;
    if (record !== undefined) written.set(path, kept ?? Buffer.from(record));
  };
  if (!stop.wanted) await shareWork(indexer, { paths: missing, folder }, helpers, each, stop);
  if (stop.wanted) {
    pack?.save();
    progress.done();
    return undefined;
  }
  for (const [path, where] of written) {
    if (typeof where !== "string") readOut(path, where.toString());
    else {
      const entry = pack?.get(where);
      // Where the disk gave out in the middle, the note is read once more.
      readOut(path, (entry ? fromEntry(entry) : indexer.note(path)).record);
    }
  }
  pack?.save();
  progress.done();
  return { base: new Base(paths.flatMap((path) => records.get(path) ?? [])), failed };
}

function fromPack(pack: Pack, key: string | undefined, folder: string): Indexed | undefined {
  const entry = key === undefined ? undefined : pack.get(key);
  if (entry === undefined) return undefined;
  const indexed = fromEntry(entry);
  return stillAsSeen(folder, indexed.seen ?? []) ? indexed : undefined;
}

/** The record stands as it is behind a first line with the rest; JSON inside JSON would grow by its marks. */
function toEntry({ record = "", key: _, ...rest }: Indexed): Buffer {
  return Buffer.from(`${JSON.stringify(rest)}\n${record}`);
}

function fromEntry(entry: Buffer): Indexed {
  const end = entry.indexOf(10);
  const rest: Indexed = JSON.parse(entry.toString("utf8", 0, end));
  const record = entry.toString("utf8", end + 1);
  return record === "" ? rest : { ...rest, record };
}
