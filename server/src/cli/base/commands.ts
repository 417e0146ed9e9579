/** All that works on many notes at once; see `host/lazy-base.ts`. */

export * as live from "../../base/live.ts";
export { exportNotes } from "./export.ts";
export { find } from "./find.ts";
export { importLog } from "./import.ts";
export { Indexer } from "./indexer.ts";
export { openBase } from "./open-base.ts";
export { similar } from "./similar.ts";
export { table } from "./table.ts";
