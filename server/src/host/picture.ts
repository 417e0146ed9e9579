import { readFileSync, realpathSync, statSync } from "node:fs";
import { extname, isAbsolute, relative, resolve, sep } from "node:path";
import { filePartOf } from "../note/prose-links.ts";

/** A sheet with larger pictures could not be sent to anybody. */
const MAX_PICTURE_BYTES = 8 * 1024 * 1024;

const KINDS: Readonly<Record<string, string>> = {
  ".png": "image/png",
  ".jpg": "image/jpeg",
  ".jpeg": "image/jpeg",
  ".gif": "image/gif",
  ".webp": "image/webp",
  ".avif": "image/avif",
};

export interface Picture {
  /** Media type, such as `image/png`. */
  readonly kind: string;
  /** With its dot, in lower case. */
  readonly extension: string;
  readonly bytes: Buffer;
}

/** A picture beside a note as a `data:` address; see `pictureAt` for what is no such picture. */
export function pictureData(target: string, folder: string, root: string): string | undefined {
  const picture = pictureAt(target, folder, root);
  return picture && `data:${picture.kind};base64,${picture.bytes.toString("base64")}`;
}

/**
 * A picture beside a note. Undefined for what is no picture, too large, or not inside the notes' root wherever
 * a path or a link leads: a sheet is handed out, and a note must not pull other files of the computer into it.
 *
 * @param folder of the note
 * @param root of the notes: the shop file's folder, else the note's own
 */
export function pictureAt(target: string, folder: string, root: string): Picture | undefined {
  const written = filePartOf(target);
  if (written === undefined || isAbsolute(written) || /^(?:[a-z]:|[\\/])/i.test(written)) return undefined;
  const extension = extname(written).toLowerCase();
  const kind = KINDS[extension];
  if (kind === undefined) return undefined;
  try {
    const path = realpathSync(resolve(folder, written));
    const way = relative(realpathSync(root), path);
    if (way === ".." || way.startsWith(`..${sep}`) || isAbsolute(way)) return undefined;
    const { size } = statSync(path);
    if (size > MAX_PICTURE_BYTES) return undefined;
    return { kind, extension, bytes: readFileSync(path) };
  } catch {
    // Not there, or not to be read: the sheet names the picture instead.
    return undefined;
  }
}
