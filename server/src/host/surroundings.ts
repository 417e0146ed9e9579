import { existsSync } from "node:fs";
import { resolve } from "node:path";
import type { Surroundings } from "../check/analyze.ts";
import type { Note } from "../note/note.ts";
import { filePartOf } from "../note/prose-links.ts";
import { type LogReading, type LogRequest, logOptions } from "../note/series-log.ts";

/**
 * Gathers what the analysis cannot know by itself: which files that the note points to are not there, and
 * what the logs hold that its series take their rows from.
 *
 * @param readLog reads the log of a request
 */
export function surroundingsOf(
  note: Note,
  folder: string,
  readLog: (request: LogRequest) => LogReading,
  exists: (path: string) => boolean = existsSync,
): Surroundings {
  let missing: Set<string> | undefined;
  let logs: Map<string, LogReading> | undefined;
  const isMissing = (target: string): void => {
    missing ??= new Set();
    missing.add(target);
  };
  for (const { target } of note.links) {
    const path = besideNote(target);
    if (path !== undefined && !exists(resolve(folder, path))) isMissing(target);
  }
  for (const block of note.blocks) {
    if (block.kind !== "series") continue;
    const { request } = logOptions(block);
    if (!request) continue;
    const reading = readLog(request);
    if (!reading.ok && reading.missing) isMissing(request.path);
    logs ??= new Map();
    logs.set(request.key, reading);
  }
  return { ...(missing ? { missing } : {}), ...(logs ? { logs } : {}) };
}

/**
 * The part of a link target that names a file beside the note. Undefined for addresses on the web, places
 * inside the note itself, and targets from the root, whose meaning depends on the viewer.
 */
function besideNote(target: string): string | undefined {
  return target.startsWith("/") ? undefined : filePartOf(target);
}
