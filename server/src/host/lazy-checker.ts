/**
 * The checker, a bundle of its own beside the server, the command line and its threads. An editor waits for
 * the server's first reply and not yet for a note, so loading it is put off until then.
 */
export const lazyChecker = (): typeof import("../checker.ts") => require("./checker.js");
