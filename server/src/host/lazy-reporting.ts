/** Reports for other programs and for reviewers, a bundle of their own that is loaded when one is asked for. */
export type Reporting = typeof import("../reporting.ts");

export const lazyReporting = (): Reporting => require("./reporting.js");
