/** All that makes pages, as a bundle of its own; see `host/lazy-sheet.ts`. */

export { sheet } from "./cli/sheet.ts";
export { site } from "./cli/site.ts";
export { SitePages } from "./cli/site-pages.ts";
