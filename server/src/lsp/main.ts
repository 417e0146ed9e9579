import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { setFlagsFromString } from "node:v8";
import { createConnection } from "vscode-languageserver/node";
import { lazyChecker } from "../host/lazy-checker.ts";
import { lazyLibraries } from "../host/libraries.ts";
import { openShopsAmong } from "./open-shops.ts";
import { CONNECTION_OPTIONS, reportTo, serve } from "./serve.ts";

// A server runs all day beside an editor. Left alone, the memory grows to a multiple of what is in use before it
// is cleaned up; a few more cleanings cost less time than the larger memory does. Taken as a hint: a version of
// Node that knows no such setting leaves it out.
setFlagsFromString("--heap-growing-percent=30");

/** The language server as a process, over the channel that its arguments name. */
const connection = createConnection(CONNECTION_OPTIONS);
const report = reportTo(connection);
process.on("uncaughtException", (fault) => report("a task", fault));
process.on("unhandledRejection", (fault) => report("a task", fault));

const rulePages = pathToFileURL(join(__dirname, "..", "grammar", "rules", "/")).href;
serve(connection, rulePages, (documents, options) => {
  const { Features, HandedShops, Workspace } = lazyChecker();
  const open = openShopsAmong(documents);
  const files = new HandedShops(lazyLibraries, open, new Workspace(lazyLibraries, open));
  return new Features(connection, documents, options, lazyLibraries, files);
});
