/** The job sheet with its libraries for prose and plots, a bundle of its own that only `witness-mark sheet` loads. */
export const lazySheet = (): typeof import("../cli/sheet.ts") => require("./sheet.js");
