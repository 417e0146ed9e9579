import { realpathSync } from "node:fs";
import { isAbsolute, relative, resolve, sep } from "node:path";
import { filePartOf } from "../note/prose-links.ts";
import type { LogReading } from "../note/series-log.ts";
import { reasonOf } from "./read-text.ts";

export type NoLog = LogReading & { ok: false };

export const refuse = (message: string, advice: string): NoLog => ({
  ok: false,
  missing: false,
  message,
  advice,
});

/**
 * Where a log lies. Only files inside the notes' root are read, wherever a path or a link leads.
 *
 * @param onDisk whether links of the file system can be followed; not so in an earlier revision
 */
export function findLog(
  written: string,
  folder: string,
  root: string,
  onDisk: boolean,
): { readonly ok: true; readonly path: string } | NoLog {
  const outside = refuse(
    `\`${written}\` leads out of the folder of the notes, so it is not read.`,
    "Put a copy of the log beside the note, as in `from: logs/decay.csv`. A note must not reach for other files of the computer that it is opened on.",
  );
  // A drive letter or a share of another system is no path beside the note either.
  if (isAbsolute(written) || /^(?:[a-z]:|[\\/])/i.test(written)) return outside;
  const path = resolve(folder, filePartOf(written) ?? written);
  if (!isInside(path, root)) return outside;
  if (!onDisk) return { ok: true, path };
  try {
    // A link inside the root may still lead out of it.
    const real = realpathSync(path);
    return isInside(real, realpathSync(root)) ? { ok: true, path: real } : outside;
  } catch (fault) {
    const gone =
      fault instanceof Error && "code" in fault && (fault.code === "ENOENT" || fault.code === "ENOTDIR");
    return { ...refuse(`The log \`${written}\` ${reasonOf(fault)}.`, "Correct the path."), missing: gone };
  }
}

function isInside(path: string, root: string): boolean {
  const way = relative(root, path);
  return way !== "" && way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}
