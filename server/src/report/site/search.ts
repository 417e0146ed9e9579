import MiniSearch, { type Options } from "minisearch";
import { processTerm, tokenize } from "../../base/word-index.ts";
import { html } from "../sheet/html.ts";
import { type Entry, text } from "./catalog.ts";
import type { SitePage } from "./layout.ts";

/** A job as the search shows it. */
export interface Hit {
  readonly page: string;
  readonly job: string;
  readonly subject: string;
  readonly says: string;
  readonly day: string;
}

const WEIGHTS = {
  job: 4,
  subject: 3,
  complaint: 3,
  cause: 2,
  correction: 2,
  place: 2,
  procedure: 1,
  vehicle: 1,
  rest: 1,
};
type Part = keyof typeof WEIGHTS;

/** The same when the index is made and when it is read on the page; else words would not meet. */
export const SEARCH_OPTIONS: Options<Entry & { readonly id: number }> = {
  fields: Object.keys(WEIGHTS),
  storeFields: ["hit"],
  extractField: (entry, field) =>
    field === "id" ? entry.id : field === "hit" ? hitOf(entry) : partOf(entry, field as Part),
  tokenize,
  processTerm,
  searchOptions: {
    boost: WEIGHTS,
    combineWith: "AND",
    prefix: (term) => term.length > 2,
    fuzzy: (term) => (term.length > 3 ? 0.25 : false),
  },
};

function hitOf(entry: Entry): Hit {
  const { page, job, subject, procedure, vehicle, state, record } = entry;
  const says = [text(record, "complaint"), procedure, vehicle, state]
    .filter((part) => part !== "")
    .join(" · ");
  return { page, job, subject, says, day: record.day ?? "" };
}

function partOf(entry: Entry, part: Part): string {
  const { record } = entry;
  switch (part) {
    case "place":
      return record.steps.map(({ place }) => place ?? "").join(" ");
    case "rest":
      return `${record.words} ${text(record, "by")} ${text(record, "tags")}`;
    case "job":
    case "subject":
    case "procedure":
    case "vehicle":
      return entry[part];
    default:
      return text(record, part);
  }
}

/** The index as a script, since a page that was opened from a folder may not read other files, but run them. */
export function searchIndex(entries: readonly Entry[]): string {
  const index = new MiniSearch(SEARCH_OPTIONS);
  entries.forEach((entry, id) => {
    index.add({ ...entry, id });
  });
  // As a text that is parsed, which is faster than the same as a literal (and no text can end the script).
  const json = JSON.stringify(JSON.stringify(index))
    .replace(/</g, "\\u003c")
    .replace(/\u2028|\u2029/g, " ");
  return `self.witnessMarkIndex = ${json};\n`;
}

export function searchPage(): SitePage {
  return {
    page: "search.html",
    title: "Search",
    scripts: ["search-index.js", "search.js"],
    body: html`<h1>Search</h1><form role="search" class="search" action="search.html" method="get"><label for="words">Words of a job: its number, subject, complaint, cause, vehicle</label> <input id="words" name="q" type="search" autocomplete="off"> <button>Find</button></form><p id="count" role="status"></p><noscript><p>The search needs scripts. The lists by year, procedure and value work without.</p></noscript><ol id="hits"></ol>`,
  };
}
