/** Job sheets and the site, with their libraries for prose, plots and search: a bundle of their own. */
export const lazySheet = (): typeof import("../sheets.ts") => require("./sheet.js");
