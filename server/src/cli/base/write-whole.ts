import { randomBytes } from "node:crypto";
import { renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { reasonOf } from "../../host/read-text.ts";

/** A name beside a file under which it is written before it takes its place. */
export const besideName = (path: string): string =>
  join(dirname(path), `.${basename(path)}.${randomBytes(4).toString("hex")}.part`);

/** Writes a file under another name first, so that nobody ever finds half of it. Gives the reason where it fails. */
export function writeWhole(path: string, content: string | Uint8Array): string | undefined {
  const beside = besideName(path);
  try {
    writeFileSync(beside, content, { flag: "wx" });
    renameSync(beside, path);
    return undefined;
  } catch (fault) {
    rmSync(beside, { force: true });
    return reasonOf(fault);
  }
}
