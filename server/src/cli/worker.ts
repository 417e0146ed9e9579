import { parentPort, workerData } from "node:worker_threads";
import { lazyYaml } from "../host/lazy-yaml.ts";
import { FileChecker } from "./file-checker.ts";
import { type Assignment, help } from "./shared-work.ts";

// A thread that helps with many notes. It ends by itself when there is nothing left to take.
const assignment: Assignment = workerData;
if (parentPort !== null) {
  help(new FileChecker(assignment.folder, assignment.form, lazyYaml), assignment, parentPort);
}
