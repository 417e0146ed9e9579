import { basename, dirname, resolve } from "node:path";
import { Git } from "../host/git.ts";
import { fromDisk, type NoteSource } from "../host/note-source.ts";
import { valuesInText } from "../report/values-in-text.ts";
import { NoteReader } from "./note-reader.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";

/**
 * `witness-mark textconv FILE`: the note with its values, for `git diff`. Whatever the file holds, it ends
 * well and prints something to compare: git gives up on the whole difference otherwise.
 */
export function textconv(file: string, outside: Outside): ExitStatus {
  const { folder, libraries } = outside;
  const path = resolve(folder, file);
  const disk = fromDisk(libraries);
  const read = new NoteReader(folder, libraries, withShopOf(path, folder, disk)).note(path);
  if (read.kind === "note") {
    outside.out(valuesInText(read.note.analysis));
    return EXIT.clear;
  }
  const reading = disk.read(path);
  if (!reading.ok && reading.head === undefined) {
    outside.err(`${file} ${reading.reason}.\n`);
    return EXIT.failed;
  }
  outside.out(reading.ok ? reading.text : `${reading.head ?? ""}\n`);
  return EXIT.clear;
}

/**
 * git hands over the earlier state of a note as a file of the same name in its own folder for such files,
 * where there is no shop file. The one that goes with the note itself is taken for both.
 */
function withShopOf(path: string, folder: string, disk: NoteSource): NoteSource {
  const git = Git.at(folder);
  if (!git.ok || git.value.inside(path) !== undefined) return disk;
  const name = basename(path);
  const known = git.value.list(["ls-files", "-z", "--full-name"]);
  const same = known.ok ? known.value.filter((one) => basename(one) === name) : [];
  const shops = new Set(same.map((one) => disk.shopFor(dirname(git.value.outside(one)))));
  const [only] = shops.size === 1 ? shops : [disk.shopFor(git.value.root)];
  return { ...disk, shopFor: () => only };
}
