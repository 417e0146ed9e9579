import { closeSync, openSync, readdirSync, readSync, statSync } from "node:fs";
import { join } from "node:path";
import type { LogRequest } from "../note/series-log.ts";
import { findLog } from "./log-path.ts";

/** What can be seen of logs while a series is typed: which there are, and how their columns are headed. */

const LOG_NAME = /\.(?:csv|tsv|txt|log)$/i;
/** Folders below the note's own that are looked into, one in another. */
const DEEPEST = 3;
const MOST_FILES = 200;
const MOST_FOLDERS = 200;
/** What a logger writes about itself before its table is shorter. */
const HEAD_BYTES = 64 * 1024;

/** Logs beside a note and below, as `from:` names them. Folders that are hidden or hold libraries are passed by. */
export function logsBeside(folder: string): readonly string[] {
  const found: string[] = [];
  const waiting: { readonly way: string; readonly depth: number }[] = [{ way: "", depth: 0 }];
  for (let next = 0; next < waiting.length && next < MOST_FOLDERS; next++) {
    const { way, depth } = waiting[next] ?? { way: "", depth: DEEPEST };
    for (const entry of entriesOf(join(folder, way))) {
      if (entry.name.startsWith(".") || entry.name === "node_modules") continue;
      const path = way === "" ? entry.name : `${way}/${entry.name}`;
      if (entry.isDirectory()) {
        if (depth < DEEPEST) waiting.push({ way: path, depth: depth + 1 });
      } else if (LOG_NAME.test(entry.name)) found.push(path);
      if (found.length === MOST_FILES) return found;
    }
  }
  return found;
}

function entriesOf(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1));
  } catch {
    // Nothing is offered from a folder that may not be read.
    return [];
  }
}

/** The first line of a log's table, cell by cell; empty where there is none to read. */
export function logHeads(
  { path, separator, skip }: Pick<LogRequest, "path" | "separator" | "skip">,
  folder: string,
  root: string,
): readonly string[] {
  const found = findLog(path, folder, root, true);
  if (!found.ok) return [];
  const head = headOf(found.path);
  const line = head
    ?.split(/\r\n|\n|\r/)
    .slice(skip)
    .find((one) => one.trim() !== "");
  return line === undefined ? [] : cellsOf(line, separator);
}

function headOf(path: string): string | undefined {
  try {
    if (!statSync(path).isFile()) return undefined;
    const file = openSync(path, "r");
    try {
      const bytes = Buffer.alloc(HEAD_BYTES);
      const length = readSync(file, bytes, 0, bytes.length, 0);
      const text = bytes.toString("utf8", 0, length).replace(/^\uFEFF/, "");
      return text.includes("\0") ? undefined : text;
    } finally {
      closeSync(file);
    }
  } catch {
    // Why a log cannot be read is told by the finding about it.
    return undefined;
  }
}

/** One line is all that is looked at, so quotes that go over several do not matter here. */
function cellsOf(line: string, separator: LogRequest["separator"]): string[] {
  const cells: string[] = [];
  let cell = "";
  let quoted = false;
  for (const c of line) {
    if (c === '"') quoted = !quoted;
    else if (c === separator && !quoted) {
      cells.push(cell.trim());
      cell = "";
    } else cell += c;
  }
  return [...cells, cell.trim()];
}
