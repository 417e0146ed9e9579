import { type Html, html, sentence } from "../sheet/html.ts";
import type { Catalog, Group, RuleGroup } from "./catalog.ts";
import type { SitePage } from "./layout.ts";
import { wayTo } from "./site-map.ts";
import { counted, listTable, notesTable } from "./tables.ts";

const LATEST = 25;

/** The pages that list notes: by year, by procedure, by rule, and those that are open. */
export function* listPages(catalog: Catalog): Generator<SitePage> {
  yield startPage(catalog);
  const open = catalog.entries.filter((entry) => entry.open);
  yield {
    page: "open.html",
    title: "Open jobs",
    body: html`<h1>Open jobs</h1>${notesTable("Jobs that are not done", open, "open.html")}`,
  };
  for (const group of catalog.years) yield groupPage(group);
  yield groupIndex("procedures.html", "Procedures", "Jobs by procedure", catalog.procedures);
  for (const group of catalog.procedures) yield groupPage(group, procedureSays(catalog, group));
  yield rulesIndex(catalog.rules);
  for (const group of catalog.rules) yield rulePage(group);
}

function startPage({ title, entries, years }: Catalog): SitePage {
  const page = "index.html";
  const open = entries.filter((entry) => entry.open).length;
  const wrong = entries.filter(({ errors }) => errors > 0).length;
  return {
    page,
    title,
    body: html`<h1>${title}</h1><p class="lead">${counted(entries.length, "job", "jobs")}, ${counted(open, "of them open", "of them open")}. ${
      wrong === 0 ? "No note has an error." : `${counted(wrong, "note has", "notes have")} errors.`
    }</p>${notesTable("Latest jobs", entries.slice(0, LATEST), page)}<h2>By year</h2><ul class="years">${years.map(
      (group) =>
        html`<li><a href="${wayTo(group.page, page)}">${group.title}</a> <span>${counted(group.entries.length, "job", "jobs")}</span></li>`,
    )}</ul>`,
  };
}

function groupIndex(page: string, title: string, caption: string, groups: readonly Group[]): SitePage {
  return {
    page,
    title,
    body: html`<h1>${title}</h1>${listTable(
      caption,
      ["Procedure", "Jobs#", "Open#"],
      groups.map(
        (group) =>
          html`<tr><th scope="row"><a href="${wayTo(group.page, page)}">${group.title}</a></th><td class="number">${group.entries.length}</td><td class="number">${group.entries.filter((entry) => entry.open).length}</td></tr>`,
      ),
    )}`,
  };
}

function groupPage({ title, page, entries }: Group, says?: Html): SitePage {
  return {
    page,
    title,
    body: html`<h1>${title}</h1>${says}${notesTable(counted(entries.length, "job", "jobs"), entries, page)}`,
  };
}

function procedureSays({ procedure }: Catalog, { name }: Group): Html | undefined {
  const known = procedure(name);
  return (
    known &&
    html`<p class="lead">${known.covers}</p><section class="wm-cautions"><h2>Cautions</h2><ul>${known.cautions.map((caution) => html`<li>${caution}</li>`)}</ul><p>These go before this procedure:</p><ul>${known.defer.map((source) => html`<li>${source}</li>`)}</ul></section>`
  );
}

function rulesIndex(groups: readonly RuleGroup[]): SitePage {
  const page = "rules.html";
  return {
    page,
    title: "Rules",
    body: html`<h1>Rules</h1><p class="lead">What the checker looks for, and how many notes show it.</p>${listTable(
      "Rules by family",
      ["Rule", "About", "Severity", "Notes#"],
      groups.map(
        (group) =>
          html`<tr><th scope="row"><a href="${wayTo(group.page, page)}"><code>${group.name}</code></a></th><td>${sentence(group.title)}</td><td>${group.rule.severity}</td><td class="number">${group.entries.length}</td></tr>`,
      ),
    )}`,
  };
}

function rulePage({ name, page, entries, rule }: RuleGroup): SitePage {
  const { page: text, why, severity } = rule;
  return {
    page,
    title: text.title,
    body: html`<h1>${sentence(text.title)}</h1><p><code>${name}</code>, ${severity}</p><h2>What it means</h2><p>${sentence(text.means)}</p><h2>Why it matters</h2><p>${sentence(why)}</p><h2>What to do</h2><p>${sentence(text.mend)}</p><h2>Is reported</h2><pre tabindex="0"><code>${text.breaks.note.trimEnd()}</code></pre><h2>Is left alone</h2><pre tabindex="0"><code>${text.keeps.note.trimEnd()}</code></pre>${
      text.source === undefined ? undefined : html`<h2>Source</h2><p>${sentence(text.source)}</p>`
    }<h2>Notes that show it</h2>${notesTable(counted(entries.length, "note", "notes"), entries, page)}`,
  };
}
