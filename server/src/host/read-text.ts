import { isUtf8 } from "node:buffer";
import { closeSync, openSync, readSync } from "node:fs";
import { MAX_BYTES } from "../note/longest.ts";

export { MAX_BYTES };

/** A file's text, or why there is none, as a clause that follows the file's name: "is not there". */
export type TextReading =
  | { readonly ok: true; readonly text: string }
  /** `head` is what can be read of its beginning, to tell whether it was meant as a job note at all. */
  | { readonly ok: false; readonly reason: string; readonly head?: string };

const HEAD_BYTES = 64 * 1024;
// One buffer for all files: allocated once, and only the pages that are written to take up memory.
let buffer: Buffer | undefined;

/**
 * Reads a UTF-8 text file at once. Reading in turn is several times faster than reading side by side while
 * the files are in the system's cache. A byte order mark at the start is left out, as editors leave it out.
 */
export function readText(path: string): TextReading {
  const reading = readBytes(path);
  return reading.ok ? textOf(reading.bytes) : reading;
}

export type BytesReading =
  /** `isFresh` tells whether they are still those of this file. */
  | { readonly ok: true; readonly bytes: Buffer; readonly isFresh: () => boolean }
  | { readonly ok: false; readonly reason: string };

let turn = 0;

/** A file's bytes, one more than a note may hold at most. They stay as they are until the next file is read. */
export function readBytes(path: string): BytesReading {
  const own = ++turn;
  buffer ??= Buffer.allocUnsafeSlow(MAX_BYTES + 1);
  let length = 0;
  try {
    const file = openSync(path, "r");
    try {
      for (;;) {
        const read = readSync(file, buffer, length, buffer.length - length, null);
        length += read;
        if (read === 0 || length === buffer.length) break;
      }
    } finally {
      closeSync(file);
    }
  } catch (fault) {
    return { ok: false, reason: reasonOf(fault) };
  }
  return { ok: true, bytes: buffer.subarray(0, length), isFresh: () => own === turn };
}

/** The text in the bytes of a file, wherever they came from. */
export function textOf(bytes: Buffer): TextReading {
  const { length } = bytes;
  const head = (): string => withoutMark(bytes.toString("utf8", 0, Math.min(length, HEAD_BYTES)));
  if (length > MAX_BYTES) {
    return {
      ok: false,
      reason: "holds more than 5 MB, which no job note needs. Keep long logs in a CSV file beside the note",
      head: head(),
    };
  }
  if (length >= 2 && ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))) {
    return { ok: false, reason: "is written as UTF-16. Save it as UTF-8", head: bytes.toString("utf16le") };
  }
  if (bytes.includes(0)) {
    return { ok: false, reason: "holds bytes that are not text", head: head() };
  }
  if (!isUtf8(bytes)) {
    const line = firstBadLine(bytes);
    return {
      ok: false,
      reason: `is not written as UTF-8 (see line ${line}). Save it as UTF-8, or degree signs and umlauts are lost`,
      head: head(),
    };
  }
  return { ok: true, text: withoutMark(bytes.toString("utf8")) };
}

function withoutMark(text: string): string {
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

function firstBadLine(bytes: Buffer): number {
  const before = bytes.toString("utf8").split("\uFFFD", 1)[0] ?? "";
  return before.split("\n").length;
}

/** A file system error as a clause in plain words. */
export function reasonOf(fault: unknown): string {
  const code = fault instanceof Error && "code" in fault ? String(fault.code) : "";
  return REASONS[code] ?? `cannot be read (${code || String(fault)})`;
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "is not there",
  ENOTDIR: "is not there",
  EACCES: "may not be read by you. Check its permissions",
  EPERM: "may not be read by you. Check its permissions",
  EISDIR: "is a folder, not a file",
  ELOOP: "is a link that leads back to itself",
  ENAMETOOLONG: "has a name that is too long for this computer",
  EMFILE: "cannot be read, because too many files are open",
  EIO: "cannot be read, because the disk or network drive gives an error",
};
