import type { Analysis } from "../../analysis/analysis.ts";
import type { Procedure } from "../../procedures/procedure.ts";
import { sheetHeading } from "../sheet/heading.ts";
import { Html, html } from "../sheet/html.ts";
import { cautions, photos } from "../sheet/page.ts";
import { type Embed, type Follow, noteBody } from "../sheet/prose.ts";
import { type Catalog, type Entry, text } from "./catalog.ts";
import type { SitePage } from "./layout.ts";
import { wayTo } from "./site-map.ts";

export interface NotePageParts {
  readonly entry: Entry;
  readonly analysis: Analysis;
  readonly procedure: Procedure | undefined;
  readonly embed: Embed;
  readonly follow: Follow;
}

/** A note's own page: the job sheet with links to what it has to do with. */
export function notePage(catalog: Catalog, parts: NotePageParts): SitePage {
  const { entry, analysis, procedure, embed, follow } = parts;
  const { page, job, subject } = entry;
  const title = `Job ${job}${subject === "" ? "" : `: ${subject}`}`;
  const { photos: pictures } = analysis.note.frontMatter.fields;
  const heading = linked(
    html`<div class="wm-sheet">${sheetHeading(analysis, procedure)}</div>`.text,
    catalog,
    page,
  );
  const body = linked(lowered(noteBody(analysis, embed, follow).text), catalog, page);
  return {
    page,
    title,
    body: html`<article class="job"><h1>${title}</h1>${related(catalog, entry)}${new Html(heading)}${cautions(procedure)}${new Html(body)}${photos(pictures, embed)}<p class="path">From <code>${entry.record.path}</code></p></article>`,
  };
}

function related(catalog: Catalog, entry: Entry): Html | undefined {
  const { page, record, job } = entry;
  const links: Html[] = [];
  const add = (says: string, others: readonly Entry[]): void => {
    for (const other of others) {
      if (other === entry) continue;
      links.push(
        html`<li>${says} <a href="${wayTo(other.page, page)}">job ${other.job}${other.subject === "" ? "" : `: ${other.subject}`}</a>${other.record.day && `, ${other.record.day}`}</li>`,
      );
    }
  };
  const first = text(record, "comeback of");
  if (first !== "") add("Comeback of", catalog.byJob(first));
  add("Came back as", catalog.comebacks(entry));
  add("The same number has", catalog.byJob(job));
  if (links.length === 0) return undefined;
  return html`<nav class="related" aria-label="Other jobs"><ul>${links}</ul></nav>`;
}

/** The page has its own first heading, so those of the note stand one level below. */
const lowered = (body: string): string =>
  body.replace(/<(\/?)h([1-5])\b/g, (_, end: string, level: string) => `<${end}h${Number(level) + 1}`);

/** Names of rules lead to their pages. Only the sheet itself makes such spans: a note's own HTML is taken out. */
function linked(body: string, catalog: Catalog, page: string): string {
  const pages = rulePages(catalog);
  return body.replace(/<span class="wm-rule">([a-z-]+\/[a-z-]+)<\/span>/g, (all, rule: string) => {
    const target = pages.get(rule);
    return target === undefined ? all : `<a class="wm-rule" href="${wayTo(target, page)}">${rule}</a>`;
  });
}

const known = new WeakMap<Catalog, ReadonlyMap<string, string>>();

function rulePages(catalog: Catalog): ReadonlyMap<string, string> {
  let pages = known.get(catalog);
  if (pages === undefined) {
    pages = new Map(catalog.rules.map(({ name, page }) => [name, page]));
    known.set(catalog, pages);
  }
  return pages;
}
