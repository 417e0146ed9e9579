import type { Analysis } from "../../analysis/analysis.ts";
import type { Procedure } from "../../procedures/procedure.ts";
import { sheetHeading } from "../sheet/heading.ts";
import { Html, html } from "../sheet/html.ts";
import { cautions, photos } from "../sheet/page.ts";
import { type Embed, type Follow, noteBody } from "../sheet/prose.ts";
import { type Catalog, type Entry, text } from "./catalog.ts";
import type { SitePage } from "./layout.ts";
import { wayTo } from "./site-map.ts";

/** What a note's page takes from the other notes. Plain data, since another thread may make the page. */
export interface NotePagePlan {
  readonly page: string;
  readonly job: string;
  readonly subject: string;
  /** As shown. */
  readonly path: string;
  readonly related: readonly RelatedJob[];
}

interface RelatedJob {
  /** `Comeback of`, before the link. */
  readonly says: string;
  readonly page: string;
  readonly job: string;
  readonly subject: string;
  readonly day: string | undefined;
}

export interface NotePageParts {
  readonly plan: NotePagePlan;
  /** Pages of the rules by name. */
  readonly rules: ReadonlyMap<string, string>;
  readonly analysis: Analysis;
  readonly procedure: Procedure | undefined;
  readonly embed: Embed;
  readonly follow: Follow;
}

/** A note's own page: the job sheet with links to what it has to do with. */
export function notePage({ plan, rules, analysis, procedure, embed, follow }: NotePageParts): SitePage {
  const { page, job, subject } = plan;
  const title = `Job ${job}${subject === "" ? "" : `: ${subject}`}`;
  const { photos: pictures } = analysis.note.frontMatter.fields;
  const heading = linked(
    html`<div class="wm-sheet">${sheetHeading(analysis, procedure)}</div>`.text,
    rules,
    page,
  );
  const body = linked(lowered(noteBody(analysis, embed, follow).text), rules, page);
  return {
    page,
    title,
    body: html`<article class="job"><h1>${title}</h1>${related(plan)}${new Html(heading)}${cautions(procedure)}${new Html(body)}${photos(pictures, embed)}<p class="path">From <code>${plan.path}</code></p></article>`,
  };
}

/** Finds what a note has to do with others: jobs that came back, and the same number given twice. */
export function planNotePage(catalog: Catalog, entry: Entry): NotePagePlan {
  const { page, record, job, subject } = entry;
  const links = (says: string, others: readonly Entry[]): RelatedJob[] =>
    others
      .filter((other) => other !== entry)
      .map((other) => ({
        says,
        page: other.page,
        job: other.job,
        subject: other.subject,
        day: other.record.day,
      }));
  const first = text(record, "comeback of");
  return {
    page,
    job,
    subject,
    path: record.path,
    related: [
      ...(first === "" ? [] : links("Comeback of", catalog.byJob(first))),
      ...links("Came back as", catalog.comebacks(entry)),
      ...links("The same number has", catalog.byJob(job)),
    ],
  };
}

function related({ page, related: others }: NotePagePlan): Html | undefined {
  if (others.length === 0) return undefined;
  const links = others.map(
    (other) =>
      html`<li>${other.says} <a href="${wayTo(other.page, page)}">job ${other.job}${other.subject === "" ? "" : `: ${other.subject}`}</a>${other.day && `, ${other.day}`}</li>`,
  );
  return html`<nav class="related" aria-label="Other jobs"><ul>${links}</ul></nav>`;
}

/** The page has its own first heading, so those of the note stand one level below. */
const lowered = (body: string): string =>
  body.replace(/<(\/?)h([1-5])\b/g, (_, end: string, level: string) => `<${end}h${Number(level) + 1}`);

/** Names of rules lead to their pages. Only the sheet itself makes such spans: a note's own HTML is taken out. */
const linked = (body: string, rules: ReadonlyMap<string, string>, page: string): string =>
  body.replace(/<span class="wm-rule">([a-z-]+\/[a-z-]+)<\/span>/g, (all, rule: string) => {
    const target = rules.get(rule);
    return target === undefined ? all : `<a class="wm-rule" href="${wayTo(target, page)}">${rule}</a>`;
  });
