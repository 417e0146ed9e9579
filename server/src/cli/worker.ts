import { parentPort, workerData } from "node:worker_threads";
import { lazyBase } from "../host/lazy-base.ts";
import { lazyChecker } from "../host/lazy-checker.ts";
import { lazySheet } from "../host/lazy-sheet.ts";
import { lazyLibraries } from "../host/libraries.ts";
import { type Assignment, help } from "./shared-work.ts";

// A thread that helps with many notes. It ends by itself when there is nothing left to take.
const assignment: Assignment = workerData;
if (parentPort !== null) {
  const { folder, form, site } = assignment;
  if (site !== undefined) {
    const reader = new (lazyChecker().NoteReader)(folder, lazyLibraries);
    help(new (lazySheet().SitePages)(site, folder, reader), assignment, parentPort);
  } else if (form === undefined) {
    help(new (lazyBase().Indexer)(folder, lazyLibraries), assignment, parentPort);
  } else {
    const { FileChecker, KeyedSource, fromDisk } = lazyChecker();
    const disk = fromDisk(lazyLibraries);
    const source = assignment.keyed ? new KeyedSource(disk) : disk;
    help(new FileChecker(folder, form, lazyLibraries, source), assignment, parentPort);
  }
}
