/** Finding, comparing and exporting many notes: a bundle of its own, loaded when one of these is asked for. */
export const lazyBase = (): typeof import("../cli/base/commands.ts") => require("./base.js");
