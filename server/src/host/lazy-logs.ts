import type { readLog } from "./read-log.ts";

/** Reads a log beside a note; see `read-log.ts`. */
export type LogReader = typeof readLog;

/** The reader of logs with its CSV library, a bundle of its own that is loaded with the first log. */
export const lazyLogs: LogReader = (...asked) => {
  const loaded: typeof import("./read-log.ts") = require("./logs.js");
  return loaded.readLog(...asked);
};
