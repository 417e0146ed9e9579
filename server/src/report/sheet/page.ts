import type { Analysis } from "../../analysis/analysis.ts";
import type { Procedure } from "../../procedures/procedure.ts";
import { customerBody } from "./customer.ts";
import { sheetHeading } from "./heading.ts";
import { type Html, html } from "./html.ts";
import { PAGE_STYLE } from "./page-style.ts";
import { type Embed, noteBody } from "./prose.ts";
import { SHEET_STYLE } from "./sheet-style.ts";
import { signatures } from "./signatures.ts";

export interface SheetPage {
  readonly analysis: Analysis;
  readonly procedure: Procedure | undefined;
  /** As the note is called in the foot of the page. */
  readonly path: string;
  readonly embed: Embed;
  /** A short version in plain words, without the workshop's own notes. */
  readonly customer: boolean;
  /** `sha256-…` of a text in base64, for the page's own security policy. */
  readonly fingerprint: (text: string) => string;
}

/** A job sheet as one HTML file that needs nothing else and runs nothing, ready for A4 and Letter. */
export function sheetPage(page: SheetPage): string {
  const { analysis, customer, path, fingerprint } = page;
  const { job, subject } = analysis.note.frontMatter.fields;
  const style = `${SHEET_STYLE}${PAGE_STYLE}`;
  const policy = `default-src 'none'; style-src '${fingerprint(style)}'; img-src data:`;
  const title = ["Job", job, subject && `– ${subject}`].filter(Boolean).join(" ");
  const foot = customer
    ? html`<p>This sheet was made from the workshop's job note.</p>`
    : html`<p>Made by Witness Mark from ${path}. Uncertainties are expanded, k = 2. The maker's service information, local rules and licensed practice go before this sheet.</p>`;
  return `<!doctype html>\n${html`<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light"><title>${title}</title>`}<style>${style}</style></head><body><main class="wm-page">${
    customer ? customerBody(analysis) : workshopBody(page)
  }</main><footer class="wm-foot">${foot}</footer></body></html>\n`;
}

function workshopBody({ analysis, procedure, embed }: SheetPage): Html {
  const { fields } = analysis.note.frontMatter;
  return html`<div class="wm-sheet">${sheetHeading(analysis, procedure)}${cautions(procedure)}</div>${noteBody(analysis, embed)}${photos(fields.photos, embed)}${signatures(
    [
      ["Technician", fields.by],
      ["Reviewed by", fields.reviewedBy],
      ["Customer", undefined],
    ],
  )}`;
}

export function cautions(procedure: Procedure | undefined): Html | undefined {
  if (!procedure) return undefined;
  return html`<section class="wm-cautions"><h2>Cautions</h2><ul>${procedure.cautions.map((caution) => html`<li>${caution}</li>`)}</ul><p>These go before this procedure:</p><ul>${procedure.defer.map((source) => html`<li>${source}</li>`)}</ul></section>`;
}

export function photos(given: string | readonly string[] | undefined, embed: Embed): Html | undefined {
  const targets = typeof given === "string" ? [given] : (given ?? []);
  if (targets.length === 0) return undefined;
  const shown = targets.map((target) => {
    const src = embed(target);
    return src === undefined
      ? html`<li>${target}</li>`
      : html`<li><figure><img src="${src}" alt="${target}"><figcaption>${target}</figcaption></figure></li>`;
  });
  return html`<section class="wm-photos"><h2>Photos</h2><ul>${shown}</ul></section>`;
}
