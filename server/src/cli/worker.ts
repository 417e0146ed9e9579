import { parentPort, workerData } from "node:worker_threads";
import { lazyChecker } from "../host/lazy-checker.ts";
import { lazyLibraries } from "../host/libraries.ts";
import { type Assignment, help } from "./shared-work.ts";

// A thread that helps with many notes. It ends by itself when there is nothing left to take.
const assignment: Assignment = workerData;
if (parentPort !== null) {
  const { FileChecker } = lazyChecker();
  help(new FileChecker(assignment.folder, assignment.form, lazyLibraries), assignment, parentPort);
}
