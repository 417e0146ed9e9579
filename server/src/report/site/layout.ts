import { type Html, html } from "../sheet/html.ts";
import { wayTo } from "./site-map.ts";

export interface SitePage {
  /** From the top of the site. */
  readonly page: string;
  /** Of the page alone. */
  readonly title: string;
  readonly body: Html;
  /** Scripts from the top of the site; only the page that searches has any. */
  readonly scripts?: readonly string[];
}

const SECTIONS: readonly (readonly [page: string, name: string])[] = [
  ["index.html", "Latest"],
  ["open.html", "Open jobs"],
  ["values.html", "Values"],
  ["procedures.html", "Procedures"],
  ["rules.html", "Rules"],
];

/** A whole page. Nothing is fetched from anywhere but the site's own folder. */
export function layout(siteTitle: string, { page, title, body, scripts = [] }: SitePage): string {
  const to = (target: string): string => wayTo(target, page);
  const policy = `default-src 'none'; style-src 'self'; img-src 'self'; script-src ${scripts.length > 0 ? "'self'" : "'none'"}; form-action 'self'; base-uri 'none'`;
  const full = title === siteTitle ? title : `${title} – ${siteTitle}`;
  return `<!doctype html>\n${html`<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><title>${full}</title><link rel="icon" href="${to("icon.svg")}"><link rel="stylesheet" href="${to("site.css")}">${scripts.map((script) => html`<script src="${to(script)}" defer></script>`)}</head><body><a class="skip" href="#main">To the content</a><header class="head"><p class="name"><a href="${to("index.html")}">${siteTitle}</a></p><nav aria-label="Parts of the site"><ul>${SECTIONS.map(
    ([target, name]) =>
      html`<li><a href="${to(target)}"${target === page ? CURRENT : undefined}>${name}</a></li>`,
  )}</ul></nav>${
    page === "search.html"
      ? undefined
      : html`<form role="search" action="${to("search.html")}" method="get"><label for="words">Search</label> <input id="words" name="q" type="search" autocomplete="off"> <button>Find</button></form>`
  }</header><main id="main" tabindex="-1">${body}</main><footer class="foot"><p>Made by Witness Mark from the workshop's job notes. Uncertainties are expanded, k = 2. The maker's service information, local rules and licensed practice go before these pages.</p></footer></body></html>`}\n`;
}

const CURRENT = html` aria-current="page"`;
